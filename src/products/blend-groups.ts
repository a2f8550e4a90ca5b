import { InputError } from "../errors/index.ts";
import { bestRatio, type SortedClasses, sortByRatio } from "./blend-best-ratio.ts";
import { type BlendClass, type BlendWeights, checkClasses } from "./blend-classes.ts";
import { checkWeights, coverWeights } from "./blend-ratio.ts";

/** Classes or fields that share one ratio. */
export interface BlendGroup {
  readonly k2oPerP2o5: number;
  readonly cost: number;
  /** Class ids, or field ids, of the group: classes by rising ratio, fields in the order given. */
  readonly members: readonly string[];
}

/** The division into groups with its cost. */
export interface BlendGroups {
  readonly cost: number;
  /** By rising ratio. */
  readonly groups: readonly BlendGroup[];
  /** False when fields were grouped by search and not by trying every way. */
  readonly proven: boolean;
}

/** What the grouping takes. */
export interface GroupsInput {
  readonly classes: readonly BlendClass[];
  readonly groups: number;
  /** Either cover both needs at these prices or give weights of too much and too little. */
  readonly cover?: { readonly p2o5PricePerLb: number; readonly k2oPricePerLb: number };
  readonly weights?: BlendWeights;
  /** Field of each class, when a field takes one blend; left out: each class takes its own. */
  readonly fieldOf?: Readonly<Record<string, string>>;
}

/**
 * K blends over classes or whole fields, least total cost. Classes: the best groups are neighbours in sorted ratio, dynamic
 * programme over cuts (exact). Fields: every way for up to 8 fields, above that moves of single fields from a sorted start.
 * Fewer groups than asked come back when more do not help. Throws `number-not-usable`, `no-blend-weights`.
 */
export function blendGroups(input: GroupsInput): BlendGroups {
  const { classes, groups, cover, weights, fieldOf } = input;
  checkClasses(classes);
  if (!(Number.isInteger(groups) && groups >= 1)) {
    throw new InputError("number-not-usable", `groups is ${groups}`, "Give the number of blends, 1 or more.");
  }
  const terms =
    cover !== undefined ? coverWeights(cover) : weights === undefined ? null : checkWeights(weights);
  if (terms === null) {
    throw new InputError(
      "no-blend-weights",
      "neither cover nor weights are given",
      "Give prices in cover, or weights.",
    );
  }
  return fieldOf === undefined
    ? groupClasses(sortByRatio(classes), groups, terms)
    : groupFields(classes, groups, terms, fieldOf);
}

function groupClasses(sorted: SortedClasses, most: number, weights: BlendWeights): BlendGroups {
  const n = sorted.classes.length;
  // least[g][j]: cost of the first j classes in g groups; cut[g][j]: where the last group begins.
  let least = Float64Array.from({ length: n + 1 }, (_, j) =>
    j === 0 ? 0 : bestRatio(sorted, weights, 0, j).cost,
  );
  const cuts: Int32Array[] = [new Int32Array(n + 1)];
  let used = 1;
  for (let g = 2; g <= Math.min(most, n); g++) {
    const next = Float64Array.from(least);
    const cut = new Int32Array(n + 1).fill(-1);
    for (let j = g; j <= n; j++) {
      for (let i = g - 1; i < j; i++) {
        const cost = least[i]! + bestRatio(sorted, weights, i, j).cost;
        if (cost < next[j]! - 1e-9) {
          next[j] = cost;
          cut[j] = i;
        }
      }
    }
    cuts.push(cut);
    if (next[n]! < least[n]! - 1e-9) used = g;
    least = next;
  }
  const groups: BlendGroup[] = [];
  let end = n;
  for (let g = used; g >= 1 && end > 0; g--) {
    const start = cuts[g - 1]![end]!;
    // -1: this many classes were as cheap in one group less.
    if (start < 0) continue;
    const { theta, cost } = bestRatio(sorted, weights, start, end);
    groups.unshift({
      k2oPerP2o5: theta,
      cost,
      members: sorted.classes.slice(start, end).map((one) => one.id),
    });
    end = start;
  }
  return { cost: groups.reduce((sum, group) => sum + group.cost, 0), groups, proven: true };
}

/** Up to so many fields every grouping is tried: 4,140 ways for 8. */
const FIELDS_TO_ENUMERATE = 8;

function groupFields(
  classes: readonly BlendClass[],
  most: number,
  weights: BlendWeights,
  fieldOf: Readonly<Record<string, string>>,
): BlendGroups {
  const ids = [...new Set(classes.map((one) => fieldOf[one.id] ?? one.id))];
  const own = ids.map((id) => classes.filter((one) => (fieldOf[one.id] ?? one.id) === id));
  const known = new Map<string, { readonly theta: number; readonly cost: number }>();
  const costOf = (members: readonly number[]): { readonly theta: number; readonly cost: number } => {
    const key = members.join();
    let found = known.get(key);
    if (found === undefined) {
      const sorted = sortByRatio(members.flatMap((f) => own[f]!));
      found =
        sorted.classes.length === 0
          ? { theta: 0, cost: 0 }
          : bestRatio(sorted, weights, 0, sorted.classes.length);
      known.set(key, found);
    }
    return found;
  };
  const membersOf = (labels: readonly number[]): number[][] => {
    const groups: number[][] = [];
    labels.forEach((label, f) => {
      groups[label] ??= [];
      groups[label].push(f);
    });
    return groups.filter((group) => group !== undefined);
  };
  const total = (labels: readonly number[]): number =>
    membersOf(labels).reduce((sum, group) => sum + costOf(group).cost, 0);
  const proven = ids.length <= FIELDS_TO_ENUMERATE;
  const labels = proven ? everyWay(ids.length, most, total) : search(own, most, weights, total);
  const groups = membersOf(labels)
    .map((members) => {
      const { theta, cost } = costOf(members);
      return { k2oPerP2o5: theta, cost, members: members.map((f) => ids[f]!) };
    })
    .sort((a, b) => a.k2oPerP2o5 - b.k2oPerP2o5);
  return { cost: groups.reduce((sum, group) => sum + group.cost, 0), groups, proven };
}

function everyWay(count: number, most: number, total: (labels: readonly number[]) => number): number[] {
  let best = new Array<number>(count).fill(0);
  let least = total(best);
  const grow = (labels: number[], used: number): void => {
    if (labels.length === count) {
      const cost = total(labels);
      if (cost < least - 1e-9) [best, least] = [[...labels], cost];
      return;
    }
    for (let label = 0; label <= Math.min(used, most - 1); label++) {
      grow([...labels, label], Math.max(used, label + 1));
    }
  };
  grow([], 0);
  return best;
}

function search(
  own: readonly (readonly BlendClass[])[],
  most: number,
  weights: BlendWeights,
  total: (labels: readonly number[]) => number,
): number[] {
  const wanted = own.map((classes) => {
    const sorted = sortByRatio(classes);
    return sorted.classes.length === 0 ? 0 : bestRatio(sorted, weights, 0, sorted.classes.length).theta;
  });
  const order = [...wanted.keys()].sort((a, b) =>
    wanted[a] === wanted[b] ? a - b : wanted[a]! - wanted[b]!,
  );
  const labels = wanted.map(() => 0);
  order.forEach((f, place) => {
    labels[f] = Math.floor((place * most) / order.length);
  });
  let least = total(labels);
  for (let round = 0, better = true; better && round < 100; round++) {
    better = false;
    for (let f = 0; f < labels.length; f++) {
      for (let label = 0; label < most; label++) {
        const before = labels[f]!;
        if (label === before) continue;
        labels[f] = label;
        const cost = total(labels);
        if (cost < least - 1e-9) {
          least = cost;
          better = true;
        } else labels[f] = before;
      }
    }
  }
  return labels;
}
