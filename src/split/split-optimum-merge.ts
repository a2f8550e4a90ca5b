import { Summer, sum } from "../numeric/index.ts";
import type { NutrientAmounts, OptimumZone, SplitNutrient } from "./split-optimum-types.ts";

export const SPLIT_NUTRIENTS: readonly SplitNutrient[] = ["n", "p2o5", "k2o", "s"];

/** Zones of equal need taken together. */
export interface MergedZones {
  readonly zones: readonly OptimumZone[];
  /** For each zone given, the place of its merged zone. */
  readonly placeOf: readonly number[];
}

const list = (amounts: NutrientAmounts | undefined): string =>
  SPLIT_NUTRIENTS.map((nutrient) => amounts?.[nutrient] ?? "-").join(",");

const limitsOf = (zone: OptimumZone): string =>
  [
    zone.fieldId,
    list(zone.floorLbPerAc),
    list(zone.mostLbPerAc),
    zone.saltCapLbPerAc ?? "-",
    list(zone.valuePerLb),
    list(zone.stripCounts),
  ].join("|");

/** Zones of one field with equal figures as one zone: the same optimum, fewer columns. First come, first placed. */
export function mergeEqualZones(zones: readonly OptimumZone[]): MergedZones {
  return group(zones, (zone) => `${limitsOf(zone)}|${list(zone.needLbPerAc)}`);
}

function group(zones: readonly OptimumZone[], key: (zone: OptimumZone, i: number) => string): MergedZones {
  const places = new Map<string, number>();
  const members: OptimumZone[][] = [];
  const placeOf = zones.map((zone, i) => {
    const name = key(zone, i);
    const place = places.get(name) ?? members.push([]) - 1;
    places.set(name, place);
    members[place]!.push(zone);
    return place;
  });
  return { zones: members.map(together), placeOf };
}

/** One zone for its members: the area's sum, the needs' area-weighted mean. */
function together(members: readonly OptimumZone[]): OptimumZone {
  const first = members[0]!;
  const areaAc = sum(members.map((zone) => zone.areaAc));
  const mean = (nutrient: SplitNutrient): number => {
    const same = members.every((zone) => zone.needLbPerAc[nutrient] === first.needLbPerAc[nutrient]);
    if (same || areaAc === 0) return first.needLbPerAc[nutrient] ?? 0;
    return sum(members.map((zone) => (zone.needLbPerAc[nutrient] ?? 0) * zone.areaAc)) / areaAc;
  };
  const needLbPerAc = Object.fromEntries(SPLIT_NUTRIENTS.map((nutrient) => [nutrient, mean(nutrient)]));
  return { ...first, areaAc, needLbPerAc };
}

/** Zones whose needs were taken in classes, then merged. */
export interface SteppedNeeds extends MergedZones {
  /** Width of a class, lb/ac; 0 when the needs were left as they are. */
  readonly stepLbPerAc: Readonly<Record<string, number>>;
  /** lb of each nutrient that change place inside a field: half the sum of |class - need| x area. */
  readonly movedLb: Readonly<Record<SplitNutrient, number>>;
}

const STEPS = [0, 0.5, 1, 2, 4, 5, 8, 10, 15, 20, 30, 40, 60, 80, 120, 240, 1_000, 1e9];

/**
 * At most `mostClasses` classes a field, by the smallest step that does it; zones with other floors, caps or values are
 * never put together, so a field can keep more. A class has its members' area-weighted mean need, so that a field's
 * pounds stay what they are.
 */
export function stepNeeds(zones: readonly OptimumZone[], mostClasses = 100): SteppedNeeds {
  const limits = zones.map(limitsOf);
  const stepLbPerAc: Record<string, number> = {};
  const fields = new Map<string, number[]>();
  zones.forEach((zone, i) => {
    const own = fields.get(zone.fieldId) ?? [];
    own.push(i);
    fields.set(zone.fieldId, own);
  });
  for (const [fieldId, own] of fields) {
    stepLbPerAc[fieldId] =
      STEPS.find((step) => hasAtMost(own, mostClasses, (i) => classKey(zones[i]!, limits[i]!, step))) ??
      STEPS.at(-1)!;
  }
  const grouped = group(zones, (zone, i) => classKey(zone, limits[i]!, stepLbPerAc[zone.fieldId]!));
  const moved = SPLIT_NUTRIENTS.map((nutrient) => {
    const total = new Summer();
    zones.forEach((zone, i) => {
      const stepped = grouped.zones[grouped.placeOf[i]!]!.needLbPerAc[nutrient] ?? 0;
      total.add((Math.abs(stepped - (zone.needLbPerAc[nutrient] ?? 0)) * zone.areaAc) / 2);
    });
    return [nutrient, total.total];
  });
  return { ...grouped, stepLbPerAc, movedLb: Object.fromEntries(moved) as Record<SplitNutrient, number> };
}

/** Whether the zones have no more than `most` keys; stops counting at the first one too many. */
function hasAtMost(own: readonly number[], most: number, key: (i: number) => string): boolean {
  const seen = new Set<string>();
  for (const i of own) {
    seen.add(key(i));
    if (seen.size > most) return false;
  }
  return true;
}

function classKey(zone: OptimumZone, limits: string, step: number): string {
  if (step === 0) return `${limits}|${list(zone.needLbPerAc)}`;
  // A need of 0 keeps a class of its own: land that wants nothing gets nothing.
  const rung = (nutrient: SplitNutrient): number => Math.ceil((zone.needLbPerAc[nutrient] ?? 0) / step);
  return `${limits}|${rung("n")},${rung("p2o5")},${rung("k2o")},${rung("s")}`;
}
