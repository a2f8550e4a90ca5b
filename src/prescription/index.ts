export { fieldCodes, fileStem } from "./file-stem.ts";
export { gatherFromCells, layOver, meanOver, type Overlaps, spreadToCells } from "./overlaps.ts";
export {
  type Prescription,
  type PrescriptionInput,
  RATE_COLUMN,
  writePrescription,
} from "./prescription.ts";
export { type Outline, type ReadBackFault, readBackFaults } from "./read-back.ts";
export { nearestStep, stepCarrying, stepSegment } from "./step-rates.ts";
