import type { Prescription } from "../prescription/index.ts";

/** Strip maps and broadcast maps stand in a folder each: they go to two machines. */
export const prescriptionPath = (prescription: Pick<Prescription, "pass">, name: string): string =>
  `prescriptions/${prescription.pass}/${name}`;
