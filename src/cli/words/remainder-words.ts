import type { Remainder } from "../../applied/index.ts";
import type { BinToEmpty, FieldResult, LaidInstead, RemainderOfField } from "../../plan/index.ts";
import { acresText, careLines, lbText, saltDoubt } from "../../report/index.ts";
import { numberText, UNKNOWN } from "../../units/index.ts";

/** What is left of a field. */
export function remainderFieldWords(
  { remainder, prescriptions, care, instead }: RemainderOfField,
  { field, passes }: FieldResult,
  done: string,
  stepLbPerAc: number,
): string[] {
  const doubt = saltDoubt(care);
  return [
    `${field.name}, ${done}: ${acresText(remainder.areaAc)} ac are left, ${acresText(remainder.workedAc)} ac worked`,
    ...prescriptions.map((map) => {
      const laidAc = passes.areaAc.reduce((sum, area, k) => sum + (map.rateLbPerAc[k]! > 0 ? area : 0), 0);
      return `  ${map.stem}: ${lbText(map.totalLb)} lb of ${map.product} on ${acresText(laidAc)} of them${laidAc < 0.995 * remainder.areaAc ? "; on the others the map has 0" : ""}`;
    }),
    ...instead.map((one) => insteadInWords(one, stepLbPerAc)),
    ...lostWords(instead).map((line) => `${line}.`),
    ...careLines(care).map(({ label, text }) => `${label}: ${text}`),
    ...(doubt === null ? [] : [`${doubt}.`]),
  ];
}

/** What another product brings of the oxide, against what was to go. */
function insteadInWords(one: LaidInstead, stepLbPerAc: number): string {
  const lb = one.broughtLb - one.wantedLb;
  const off =
    Math.abs(lb) < 0.5
      ? "the same"
      : `${lbText(Math.abs(lb))} lb ${lb < 0 ? "less" : "more"}, ${one.isRateGiven ? "at the rate given" : `from rates in steps of ${numberText(stepLbPerAc, 1).replace(/\.0$/, "")} lb/ac`}`;
  return `  ${one.product} brings ${lbText(one.broughtLb)} lb of ${one.oxide} where ${one.inPlaceOf} was to bring ${lbText(one.wantedLb)} lb: ${off}`;
}

/** The other oxide of a product which another stands in the place of, and micronutrients that rode on it: nothing else brings them there. */
export const lostWords = (instead: readonly LaidInstead[]): string[] =>
  instead.flatMap(({ coatLost, oxideLost, inPlaceOf, product }) => [
    ...(oxideLost === null
      ? []
      : [
          `${inPlaceOf} also brings ${oxideLost.oxide}: what is left gets ${lbText(oxideLost.lb)} lb of it less than planned with ${product}`,
        ]),
    ...coatLost.map(
      ({ element, lb }) =>
        `${element} rides on ${inPlaceOf}, not on ${product}: what is left gets none of it, ${numberText(lb, 1)} lb of ${element} less than planned`,
    ),
  ]);

/** What to do with a bin before another product goes into it. */
export function binToEmptyWords({ bin, holds, next, scaleLb }: BinToEmpty): string {
  const lb = scaleLb === null ? "" : `, ${lbText(scaleLb)} lb on its scale by the stops as planned`;
  return `Bin ${bin} holds ${holds}${lb}: empty and clean bin and meter before ${next} goes in, and catch-test it anew`;
}

/** What is left, by the calculation alone: its products have no names. */
export function remainderWords(left: Remainder): string[] {
  const lb = left.lb.map((one, p) => `product ${p + 1} ${lbText(one)} lb`).join(", ");
  return [
    `${numberText(left.areaAc, 1)} ac are left, ${numberText(left.workedAc, 1)} ac worked; ${left.segments.length} segments`,
    `For what is left: ${lb || UNKNOWN}`,
  ];
}
