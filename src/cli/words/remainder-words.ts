import type { Remainder } from "../../applied/index.ts";
import type { FieldResult, RemainderOfField } from "../../plan/index.ts";
import { acresText, lbText } from "../../report/index.ts";
import { numberText, UNKNOWN } from "../../units/index.ts";

/** What is left of a field. */
export function remainderFieldWords(
  { remainder, prescriptions }: RemainderOfField,
  { field, passes }: FieldResult,
  done: string,
): string[] {
  return [
    `${field.name}, ${done}: ${acresText(remainder.areaAc)} ac are left, ${acresText(remainder.workedAc)} ac worked`,
    ...prescriptions.map((map) => {
      const laidAc = passes.areaAc.reduce((sum, area, k) => sum + (map.rateLbPerAc[k]! > 0 ? area : 0), 0);
      return `  ${map.stem}: ${lbText(map.totalLb)} lb of ${map.product} on ${acresText(laidAc)} of them${laidAc < 0.995 * remainder.areaAc ? "; on the others the map has 0" : ""}`;
    }),
  ];
}

/** What is left, by the calculation alone: its products have no names. */
export function remainderWords(left: Remainder): string[] {
  const lb = left.lb.map((one, p) => `product ${p + 1} ${lbText(one)} lb`).join(", ");
  return [
    `${numberText(left.areaAc, 1)} ac are left, ${numberText(left.workedAc, 1)} ac worked; ${left.segments.length} segments`,
    `For what is left: ${lb || UNKNOWN}`,
  ];
}
