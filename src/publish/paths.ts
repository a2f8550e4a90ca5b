import type { Extra, Prescription } from "../prescription/index.ts";

/** Strip maps and broadcast maps stand in a folder each: they go to two machines. */
export const prescriptionPath = (prescription: Pick<Prescription, "pass">, name: string): string =>
  `prescriptions/${prescription.pass}/${name}`;

/** Other forms of a map stand apart from it: what is meant to be loaded is in `prescriptions` alone. */
export const extraPath = (extra: Pick<Extra, "form">, name: string): string => `extras/${extra.form}/${name}`;
