export type { Extra, ExtraForm, ExtraGround } from "./extra.ts";
export { type FallbackLimits, hasSmallRate, smallRateNote } from "./fallback.ts";
export { fieldCodes, fileStem } from "./file-stem.ts";
export { meltedGround } from "./melted-ground.ts";
export { gatherFromCells, layOver, meanOver, type Overlaps, spreadToCells } from "./overlaps.ts";
export {
  type Ground,
  type Prescription,
  RATE_COLUMN,
  ratePrescription,
  writePrescription,
} from "./prescription.ts";
export { type Outline, type ReadBackFault, readBackFaults } from "./read-back.ts";
export { readBackExtraFaults } from "./read-back-extras.ts";
export { stepCarrying, stepSegment } from "./step-rates.ts";
export { type ExtraWants, writeExtras } from "./write-extras.ts";
