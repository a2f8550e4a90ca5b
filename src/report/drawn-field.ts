import type { CheckedField, FieldResult, Plan } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { metresFromFeet, metresFromInches } from "../units/index.ts";

/** A field's result without the frame's functions, which do not survive a message between threads. */
export type DrawnField = Omit<FieldResult, "checked"> & { readonly checked: Omit<CheckedField, "frame"> };

/** Width of a strip pass, metres: rows times row spacing. */
export const passWidthM = (plan: Plan): number => plan.rig.rows * metresFromInches(plan.rig.rowSpacingIn);

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
