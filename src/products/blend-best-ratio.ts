import { type BlendClass, type BlendWeights, wantedRatio } from "./blend-classes.ts";

/** Classes in order of the ratio they want, with running sums of acres x need. */
export interface SortedClasses {
  readonly classes: readonly BlendClass[];
  readonly ratio: Float64Array;
  /** Sums over the first i classes, lb. */
  readonly p: Float64Array;
  readonly k: Float64Array;
}

/** Sorted by ratio, ties in the order given. Classes that want neither are left out. */
export function sortByRatio(classes: readonly BlendClass[]): SortedClasses {
  const kept = classes
    .filter((one) => one.areaAc > 0 && (one.p2o5LbPerAc > 0 || one.k2oLbPerAc > 0))
    .toSorted((a, b) => {
      const [left, right] = [wantedRatio(a), wantedRatio(b)];
      return left === right ? 0 : left - right;
    });
  const p = new Float64Array(kept.length + 1);
  const k = new Float64Array(kept.length + 1);
  kept.forEach((one, i) => {
    p[i + 1] = p[i]! + one.areaAc * one.p2o5LbPerAc;
    k[i + 1] = k[i]! + one.areaAc * one.k2oLbPerAc;
  });
  return { classes: kept, ratio: Float64Array.from(kept, wantedRatio), p, k };
}

export interface RatioCost {
  readonly theta: number;
  readonly cost: number;
}

/**
 * The best ratio for the sorted classes `from` to `to` (excluded). Between breakpoints (the classes' ratios and the two ratios
 * of weights) the cost is a theta + b / theta + c with a, b, c from running sums, so that the breakpoints and sqrt(b/a) are
 * all there is to try (operations-model c.1). Exact; O(n), or O(log n) when every need is covered, where the cost is convex.
 */
export function bestRatio(sorted: SortedClasses, weights: BlendWeights, from: number, to: number): RatioCost {
  const cover = weights.underP2o5 === Number.POSITIVE_INFINITY;
  return cover ? bestCover(sorted, weights, from, to) : bestMisfit(sorted, weights, from, to);
}

interface Curve {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Coefficients where classes `from` to `split` want a ratio not above theta and the rest one above it. */
function curve(
  sorted: SortedClasses,
  w: BlendWeights,
  from: number,
  split: number,
  to: number,
  theta: number,
): Curve {
  const lowP = sorted.p[split]! - sorted.p[from]!;
  const lowK = sorted.k[split]! - sorted.k[from]!;
  const highP = sorted.p[to]! - sorted.p[split]!;
  const highK = sorted.k[to]! - sorted.k[split]!;
  const meetPHigh = theta <= w.overP2o5 / w.underK2o;
  const meetPLow = theta <= w.underP2o5 / w.overK2o;
  return {
    a: (meetPHigh ? -w.underK2o * highP : 0) + (meetPLow ? w.overK2o * lowP : 0),
    b: (meetPHigh ? 0 : w.overP2o5 * highK) + (meetPLow ? 0 : -w.underP2o5 * lowK),
    c:
      (meetPHigh ? w.underK2o * highK : -w.overP2o5 * highP) +
      (meetPLow ? -w.overK2o * lowK : w.underP2o5 * lowP),
  };
}

const valueAt = ({ a, b, c }: Curve, theta: number): number => a * theta + b / theta + c;

function bestCover(sorted: SortedClasses, w: BlendWeights, from: number, to: number): RatioCost {
  const { ratio } = sorted;
  // The first class at whose ratio the cost no longer falls: its slope on the right is not negative.
  let low = from;
  let high = to;
  while (low < high) {
    const middle = (low + high) >> 1;
    const theta = ratio[middle]!;
    const split = upTo(ratio, theta, middle, to);
    const { a, b } = curve(sorted, w, from, split, to, theta);
    // A blend of P alone covers those that want no K, and no others; one of K alone covers none that want P.
    const isBottom = theta === 0 ? sorted.k[to] === sorted.k[split] : a * theta * theta >= b;
    if (theta === Number.POSITIVE_INFINITY || isBottom) high = middle;
    else low = middle + 1;
  }
  // The bottom lies at that ratio, or inside the piece that ends there.
  const right = low < to ? ratio[low]! : Number.POSITIVE_INFINITY;
  const left = low > from ? ratio[low - 1]! : 0;
  const inside = curve(sorted, w, from, low, to, (left + Math.min(right, left + 1)) / 2);
  const root = inside.a > 0 && inside.b > 0 ? Math.sqrt(inside.b / inside.a) : right;
  const theta = Math.min(right, Math.max(left, root));
  if (theta === 0 || theta === Number.POSITIVE_INFINITY) return { theta, cost: 0 };
  return { theta, cost: Math.max(0, valueAt(inside, theta)) };
}

/** Classes up to `to` whose ratio is not above theta, counting from one known to be so. */
function upTo(ratio: Float64Array, theta: number, known: number, to: number): number {
  let split = known + 1;
  while (split < to && ratio[split] === theta) split++;
  return split;
}

function bestMisfit(sorted: SortedClasses, w: BlendWeights, from: number, to: number): RatioCost {
  const { ratio } = sorted;
  // Blends of one nutrient: all K short, or all P.
  let best: RatioCost = { theta: 0, cost: w.underK2o * (sorted.k[to]! - sorted.k[from]!) };
  const onlyK = w.underP2o5 * (sorted.p[to]! - sorted.p[from]!);
  if (onlyK < best.cost) best = { theta: Number.POSITIVE_INFINITY, cost: onlyK };
  const points = [...ratio.subarray(from, to), w.overP2o5 / w.underK2o, w.underP2o5 / w.overK2o]
    .filter((point) => point > 0 && Number.isFinite(point))
    .sort((x, y) => x - y);
  let split = from;
  let left = 0;
  for (const right of [...points, Number.POSITIVE_INFINITY]) {
    while (split < to && ratio[split]! <= left) split++;
    if (right > left) {
      const middle = right === Number.POSITIVE_INFINITY ? left + 1 : (left + right) / 2;
      const piece = curve(sorted, w, from, split, to, middle);
      const root = piece.a > 0 && piece.b > 0 ? Math.sqrt(piece.b / piece.a) : Number.NaN;
      for (const theta of [left, root, right]) {
        if (!(theta >= left && theta <= right) || theta === 0 || theta === Number.POSITIVE_INFINITY) continue;
        const cost = valueAt(piece, theta);
        if (cost < best.cost - 1e-12 * Math.abs(best.cost)) best = { theta, cost };
      }
    }
    left = right;
  }
  return best;
}
