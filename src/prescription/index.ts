export { fieldCodes, fileStem } from "./file-stem.ts";
export { gatherFromCells, layOver, meanOver, type Overlaps, spreadToCells } from "./overlaps.ts";
export {
  type Ground,
  type Prescription,
  RATE_COLUMN,
  type RateInput,
  ratePrescription,
  writePrescription,
} from "./prescription.ts";
export { type Outline, type ReadBackFault, readBackFaults } from "./read-back.ts";
export { nearestStep, stepCarrying, stepSegment } from "./step-rates.ts";
