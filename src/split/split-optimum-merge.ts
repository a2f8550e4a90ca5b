import { sum } from "../numeric/index.ts";
import type { NutrientAmounts, OptimumClass, SplitNutrient } from "./split-optimum-types.ts";

export const SPLIT_NUTRIENTS: readonly SplitNutrient[] = ["n", "p2o5", "k2o", "s"];

/** Classes of equal need taken together. */
export interface MergedClasses {
  readonly classes: readonly OptimumClass[];
  /** For each class given, the place of its merged class. */
  readonly placeOf: readonly number[];
}

const list = (amounts: NutrientAmounts | undefined): string =>
  SPLIT_NUTRIENTS.map((nutrient) => amounts?.[nutrient] ?? "-").join(",");

const limitsOf = (one: OptimumClass): string =>
  [
    one.fieldId,
    list(one.floorLbPerAc),
    list(one.mostLbPerAc),
    one.saltCapLbPerAc ?? "-",
    list(one.valuePerLb),
    list(one.stripCounts),
  ].join("|");

/** Classes of one field with equal figures as one class: the same optimum, fewer columns. First come, first placed. */
export function mergeEqualClasses(classes: readonly OptimumClass[]): MergedClasses {
  return group(classes, (one) => `${limitsOf(one)}|${list(one.needLbPerAc)}`);
}

function group(classes: readonly OptimumClass[], key: (one: OptimumClass) => string): MergedClasses {
  const places = new Map<string, number>();
  const members: OptimumClass[][] = [];
  const placeOf = classes.map((one) => {
    const name = key(one);
    const place = places.get(name) ?? members.push([]) - 1;
    places.set(name, place);
    members[place]!.push(one);
    return place;
  });
  return { classes: members.map(together), placeOf };
}

/** One class for its members: the area's sum, the needs' area-weighted mean. */
function together(members: readonly OptimumClass[]): OptimumClass {
  const first = members[0]!;
  const areaAc = sum(members.map((one) => one.areaAc));
  const mean = (nutrient: SplitNutrient): number => {
    const same = members.every((one) => one.needLbPerAc[nutrient] === first.needLbPerAc[nutrient]);
    if (same || areaAc === 0) return first.needLbPerAc[nutrient] ?? 0;
    return sum(members.map((one) => (one.needLbPerAc[nutrient] ?? 0) * one.areaAc)) / areaAc;
  };
  const needLbPerAc = Object.fromEntries(SPLIT_NUTRIENTS.map((nutrient) => [nutrient, mean(nutrient)]));
  return { ...first, areaAc, needLbPerAc };
}
