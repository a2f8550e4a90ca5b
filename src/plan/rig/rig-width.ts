import type { Plan } from "../document/document-types.ts";

/** Width of a strip pass in feet: rows by their distance. */
export const rigWidthFt = ({ rig }: Pick<Plan, "rig">): number => (rig.rows * rig.rowSpacingIn) / 12;
