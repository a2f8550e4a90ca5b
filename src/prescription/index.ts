export {
  type Extra,
  type ExtraForm,
  type ExtraGround,
  FALLBACK_MARK,
  KG_HA_COLUMN,
  KG_HA_MARK,
} from "./extra.ts";
export type { FallbackLimits } from "./fallback.ts";
export { fieldCodes, fileStem, remainderOf, remainderStem, stemWithCode } from "./file-stem.ts";
export { meltedGround, numberedZones } from "./melted-ground.ts";
export { gatherFromCells, layOver, meanOver, type Overlaps, spreadToCells } from "./overlaps.ts";
export { type Ground, type Prescription, ratePrescription, writePrescription } from "./prescription.ts";
export { RATE_COLUMN } from "./rate-records.ts";
export { type Outline, type ReadBackFault, readBackFaults } from "./read-back.ts";
export { readBackExtraFaults } from "./read-back-extras.ts";
export { stepCarrying, stepSegment } from "./step-rates.ts";
export { type ExtraWants, taskNames, writeExtras } from "./write-extras.ts";
