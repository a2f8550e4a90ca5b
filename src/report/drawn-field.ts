import { type CheckedField, type FieldResult, laidProducts, type Plan, rigWidthM } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { M_PER_FT, metresFromFeet } from "../units/index.ts";
import { feetText } from "./numbers.ts";

/** A field's result without the frame's functions, which do not survive a message between threads. */
export type DrawnField = Omit<FieldResult, "checked"> & { readonly checked: Omit<CheckedField, "frame"> };

/** Width of a strip pass in feet, as it is printed: `20`, `27.5`. */
export const passWidthText = (plan: Plan): string => feetText(rigWidthM(plan) / M_PER_FT);

/** Width and length of the spreader's cells, metres. */
export const spreaderCellM = (plan: Plan): readonly [number, number] => [
  metresFromFeet(plan.spreader.widthFt),
  metresFromFeet(plan.spreader.lengthFt),
];

/** The field's map of a product in a pass; undefined where none was made. */
export const mapOf = (
  field: DrawnField,
  pass: Prescription["pass"],
  product: string,
): Prescription | undefined =>
  field.prescriptions.find((map) => map.pass === pass && map.product === product);

/** Products that a field's maps of a pass lay: the plan's in its order, then others, as a remainder's in the place of one. */
export function productsMapped(plan: Plan, field: DrawnField, pass: Prescription["pass"]): string[] {
  const mapped = field.prescriptions.filter((map) => map.pass === pass).map(({ product }) => product);
  const laid = laidProducts(plan).filter((product) => mapped.includes(product));
  return [...new Set([...laid, ...mapped])];
}
