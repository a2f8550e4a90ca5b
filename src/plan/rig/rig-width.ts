import { metresFromInches } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";

/** Width of a strip pass in metres: rows by their distance. */
export const rigWidthM = ({ rig }: Pick<Plan, "rig">): number =>
  rig.rows * metresFromInches(rig.rowSpacingIn);

/** The same in feet. */
export const rigWidthFt = ({ rig }: Pick<Plan, "rig">): number => (rig.rows * rig.rowSpacingIn) / 12;
