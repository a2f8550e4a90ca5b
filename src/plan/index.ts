export { type Answers, isKnownAnswerKey } from "./answers.ts";
export { depthInches } from "./depth-inches.ts";
export { PlanDocument } from "./document.ts";
export type * from "./document-drive-types.ts";
export type * from "./document-need-types.ts";
export type * from "./document-rig-types.ts";
export type * from "./document-split-types.ts";
export type * from "./document-types.ts";
export type * from "./drive-result-types.ts";
export { type ExplainedCell, explainCell } from "./explain-cell.ts";
export type { FieldCare, FieldSalt, RidingMicronutrient } from "./field-care.ts";
export { type FieldGuide, fieldGuide } from "./field-guide.ts";
export { type FieldOutline, outlinesOf } from "./field-outlines.ts";
export {
  type BinProduct,
  type Brings,
  bringsOf,
  type FieldProducts,
  fieldProducts,
  laidProducts,
  ownProducts,
  oxideIn,
  type SettledBlend,
  spreadIds,
} from "./field-products.ts";
export type { FileSource } from "./file-source.ts";
export { type GuideInUse, guideMarks, guidesInUse } from "./guides-shown.ts";
export { type InputFacts, inputFacts } from "./input-facts.ts";
export { inputLines } from "./input-line.ts";
export type * from "./need-result-types.ts";
export { type NewPlan, newPlan } from "./new-plan.ts";
export { type FieldCapacity, fieldCapacity, type PlanCapacity, planCapacity } from "./plan-capacity.ts";
export { planHash } from "./plan-hash.ts";
export { type InputReading, type ReadOptions, readInput, type TakenInput } from "./read-input.ts";
export { INPUT_ROLES, type InputItem, type InputRole } from "./read-items.ts";
export { readPlan, writePlan } from "./read-plan.ts";
export type * from "./result-types.ts";
export {
  LEVER_LB_PER_AC,
  type MeterUse,
  type RatePoint,
  type RigCapacity,
  rateForAcresPerDay,
  ratePoints,
  rigCapacity,
} from "./rig-capacity.ts";
export {
  type AssumedFigure,
  missingRigKeys,
  type RigBin,
  type RigFigures,
  rigFigures,
} from "./rig-figures.ts";
export { type BinLoad, type RigLoad, rigLoad } from "./rig-load.ts";
export { run } from "./run.ts";
export type { Progress, RunOptions } from "./run-options.ts";
export type { BlendFacts } from "./settle-blends.ts";
export type * from "./split-result-types.ts";
export { createStageCache, type StageCache } from "./stage.ts";
export { type ZeroRate, zeroRateOf } from "./zero-rate.ts";
