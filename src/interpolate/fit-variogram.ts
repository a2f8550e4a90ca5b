import type { VariogramBin } from "./empirical-variogram.ts";
import type { Structure, StructureType, VariogramModel } from "./types.ts";
import { semivariance } from "./variogram-model.ts";

export type FitWeights = "pairs-over-squared-distance" | "pairs" | "equal";

/** A model fitted to the bins of an empirical variogram. */
export interface FittedVariogram {
  readonly model: VariogramModel;
  /** The weighted sum of squares that was made least. */
  readonly sumOfSquares: number;
  /** The best range lies on the edge of those tried: the bins do not show where the variogram levels off. */
  readonly rangeAtLimit: boolean;
}

/**
 * The classical fit, for comparison with the averaged model: nugget and partial sill, never below 0, by weighted least
 * squares for each range, and the range by search between 0.3 of the nearest and 3 times the farthest bin.
 * Needs three bins; undefined with fewer.
 */
export function fitVariogram(
  bins: readonly VariogramBin[],
  type: StructureType,
  options: { readonly weights?: FitWeights; readonly kappa?: number } = {},
): FittedVariogram | undefined {
  if (bins.length < 3) return undefined;
  const kappa = type === "matern" ? { kappa: options.kappa ?? 0.5 } : {};
  const weight = bins.map(({ pairs, distanceM }) => {
    if (options.weights === "equal") return 1;
    return options.weights === "pairs" ? pairs : pairs / distanceM ** 2;
  });
  const structure = (range: number, partialSill: number): Structure => ({
    type,
    partialSill,
    range,
    ...kappa,
  });
  const best = (logRange: number): Linear => {
    const unit = { nugget: 0, structures: [structure(Math.exp(logRange), 1)] };
    return bestSills(
      bins,
      bins.map((bin) => semivariance(unit, 0, bin.distanceM)),
      weight,
    );
  };
  const first = Math.log(0.3 * bins[0]!.distanceM);
  const last = Math.log(3 * bins.at(-1)!.distanceM);
  const steps = 120;
  const logRangeAt = (i: number): number => first + ((last - first) * i) / steps;
  let lowest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= steps; i++) {
    const { sumOfSquares } = best(logRangeAt(i));
    if (sumOfSquares < least) {
      least = sumOfSquares;
      lowest = i;
    }
  }
  const from = logRangeAt(Math.max(0, lowest - 1));
  const to = logRangeAt(Math.min(steps, lowest + 1));
  const logRange = goldenSection((r) => best(r).sumOfSquares, from, to);
  const { nugget, partialSill, sumOfSquares } = best(logRange);
  return {
    model: { nugget, structures: [structure(Math.exp(logRange), partialSill)] },
    sumOfSquares,
    rangeAtLimit: lowest === 0 || lowest === steps,
  };
}

interface Linear {
  readonly nugget: number;
  readonly partialSill: number;
  readonly sumOfSquares: number;
}

/** Least squares of gamma on nugget + sill * shape, neither below 0. */
function bestSills(
  bins: readonly VariogramBin[],
  shape: readonly number[],
  weight: readonly number[],
): Linear {
  let [w, ws, wss, wg, wsg] = [0, 0, 0, 0, 0];
  bins.forEach(({ semivariance: g }, i) => {
    w += weight[i]!;
    ws += weight[i]! * shape[i]!;
    wss += weight[i]! * shape[i]! ** 2;
    wg += weight[i]! * g;
    wsg += weight[i]! * shape[i]! * g;
  });
  const determinant = w * wss - ws * ws;
  const both = [(wss * wg - ws * wsg) / determinant, (w * wsg - ws * wg) / determinant] as const;
  const candidates: (readonly [number, number])[] = [
    [0, wsg / wss],
    [wg / w, 0],
  ];
  if (both[0] >= 0 && both[1] >= 0) candidates.push(both);
  let found: Linear = { nugget: 0, partialSill: 0, sumOfSquares: Number.POSITIVE_INFINITY };
  for (const [nugget, partialSill] of candidates) {
    let sumOfSquares = 0;
    bins.forEach(({ semivariance: g }, i) => {
      sumOfSquares += weight[i]! * (g - nugget - partialSill * shape[i]!) ** 2;
    });
    if (sumOfSquares < found.sumOfSquares) found = { nugget, partialSill, sumOfSquares };
  }
  return found;
}

function goldenSection(of: (at: number) => number, from: number, to: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  let [fc, fd] = [of(c), of(d)];
  while (b - a > 1e-9) {
    if (fc < fd) {
      b = d;
      d = c;
      fd = fc;
      c = b - ratio * (b - a);
      fc = of(c);
    } else {
      a = c;
      c = d;
      fc = fd;
      d = a + ratio * (b - a);
      fd = of(d);
    }
  }
  return (a + b) / 2;
}
