import { sampleNeedsOf } from "../results/field-sums.ts";
import type { FieldGrid, SoilMap } from "../results/result-types.ts";
import type { FieldRule } from "./field-rule.ts";

/** Whether a field's samples are too few for a map, and not alike: its mean hides what they say. */
export const isMeanOfMany = ({ method, taken }: SoilMap): boolean =>
  method === "field mean" && taken.some(({ value }) => value !== taken[0]!.value);

/**
 * The need of each cell over what its test may be, where there is no map and the samples alone tell: their mean, or with a
 * `share` their quantile at it. NaN where the field's mean is.
 */
export function needOverSamples(
  rule: FieldRule,
  map: SoilMap,
  cec: Float64Array | undefined,
  share: number | null,
): Float64Array<ArrayBuffer> {
  return Float64Array.from(map.estimate, (test, cell) => {
    if (Number.isNaN(test)) return Number.NaN;
    const needs = map.taken
      .map(({ value, cecMeq }) => rule.rate(value, cecMeq ?? cec?.[cell] ?? Number.NaN, cell))
      .filter((need) => !Number.isNaN(need));
    if (share === null) return needs.reduce((total, need) => total + need, 0) / needs.length;
    return needs.toSorted((a, b) => a - b)[Math.max(0, Math.ceil(share * needs.length) - 1)] ?? Number.NaN;
  });
}

/** How many of a field's samples lie below the guide's critical level, where there is no map; null where one is or no level. */
export function samplesBelowCritical(
  rule: FieldRule,
  map: SoilMap,
  cec: Float64Array | undefined,
  cells: FieldGrid,
): { readonly below: number; readonly of: number } | null {
  if (!isMeanOfMany(map)) return null;
  const below = sampleNeedsOf(map, cells, cec, (value, cecMeq) => {
    const critical = rule.first.rule.criticalLevel(cecMeq);
    return critical === undefined ? Number.NaN : rule.first.test.toGuideTest(value) < critical ? 1 : 0;
  }).filter((one) => !Number.isNaN(one));
  return below.length === 0
    ? null
    : { below: below.reduce((total, one) => total + one, 0), of: below.length };
}
