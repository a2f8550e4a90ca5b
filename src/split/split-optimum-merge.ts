import { sum } from "../numeric/index.ts";
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

function group(zones: readonly OptimumZone[], key: (zone: OptimumZone) => string): MergedZones {
  const places = new Map<string, number>();
  const members: OptimumZone[][] = [];
  const placeOf = zones.map((zone) => {
    const name = key(zone);
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
