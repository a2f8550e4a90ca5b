import type { Plan } from "../plan/index.ts";
import { normalCdf } from "../season/index.ts";
import { acres } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import { criticalLevel } from "./guide-levels.ts";
import { roundedParts } from "./rounded-parts.ts";

/** Acres by whether the soil test lies below the critical level; rounded to a tenth, they add up to the field's. */
export interface Odds {
  readonly test: "P" | "K";
  readonly level: string;
  readonly likelyBelowAc: number;
  readonly cannotSayAc: number;
  readonly likelyAboveAc: number;
}

/** Standard deviations that leave 8 in 10 on one side (normal distribution). */
const EIGHT_IN_TEN = 0.841_621_233_572_914;

/**
 * Chance that each cell's test is below the critical level, 0 to 1, by the kriging variance of the cell's mean, taken as
 * normal (ours); NaN outside. Null where the guide has no critical level or the map no variance.
 */
export function chanceBelowCritical(plan: Plan, field: DrawnField, test: "P" | "K"): Float64Array | null {
  const map = field.maps[test];
  const level = criticalLevel(plan, field, test);
  if (!map || !level || map.variance.length === 0) return null;
  return map.estimate.map((estimate, i) => {
    if (!(field.cells.areaM2[i]! > 0)) return Number.NaN;
    const gap = level.ppm[i]! - estimate;
    const deviation = Math.sqrt(Math.max(0, map.variance[i]!));
    return deviation > 0 ? normalCdf(gap / deviation) : gap > 0 ? 1 : 0;
  });
}

/**
 * Likely below and above mean 8 in 10 by the kriging variance of each cell's mean, taken as normal (ours).
 * Null where the guide has no critical level or the map has no variance.
 */
export function oddsBelowCritical(plan: Plan, field: DrawnField, test: "P" | "K"): Odds | null {
  const map = field.maps[test];
  const level = criticalLevel(plan, field, test);
  if (!map || !level || map.variance.length === 0) return null;
  const areas = [0, 0, 0];
  field.cells.areaM2.forEach((areaM2, i) => {
    if (!(areaM2 > 0)) return;
    const sure = EIGHT_IN_TEN * Math.sqrt(Math.max(0, map.variance[i]!));
    const gap = map.estimate[i]! - level.ppm[i]!;
    areas[gap < -sure ? 0 : gap > sure ? 2 : 1]! += acres(areaM2);
  });
  const [likelyBelowAc, cannotSayAc, likelyAboveAc] = roundedParts(areas, 1, field.checked.areaAc) as [
    number,
    number,
    number,
  ];
  return { test, level: level.text, likelyBelowAc, cannotSayAc, likelyAboveAc };
}
