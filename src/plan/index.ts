export { withAnsweredOptions } from "./answered-options.ts";
export { type Answers, isKeyByFile, isKnownAnswerKey } from "./answers.ts";
export { keyOfFile } from "./answers-of-file.ts";
export {
  appliedField,
  fieldsOfLog,
  isHeldBack,
  requireCatchUps,
  requireStripFinished,
} from "./applied-field.ts";
export type * from "./applied-types.ts";
export { bandFactor } from "./band-factor.ts";
export { type BinToEmpty, binsToEmpty } from "./bins-to-empty.ts";
export { isCatchUpName, plannedStemOf } from "./catch-up-maps.ts";
export { coatedInOrderWords, coatOfMap, coatPercentText } from "./coated-order.ts";
export { lastFields } from "./cover-after.ts";
export { depthInches } from "./depth-inches.ts";
export { PlanDocument } from "./document.ts";
export type * from "./document-drive-types.ts";
export type * from "./document-need-types.ts";
export type * from "./document-rig-types.ts";
export type * from "./document-season-types.ts";
export type * from "./document-split-types.ts";
export type * from "./document-types.ts";
export { type DoneAfter, doneAfter, LEAST_LEFT_AC, nothingLeft, requireSomethingLeft } from "./done-after.ts";
export type * from "./drive-result-types.ts";
export { type ExplainedCell, explainCell } from "./explain-cell.ts";
export type { FieldCare, FieldSalt, NotedSalt, RidingMicronutrient } from "./field-care.ts";
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
  partsOf,
  ratioNames,
  type SettledBlend,
  spreadIds,
} from "./field-products.ts";
export { TEST_UNITS } from "./field-test.ts";
export { type FieldWorkRate, fieldWorkRate, HEADLAND_MPH } from "./field-work-rate.ts";
export type { FileSource } from "./file-source.ts";
export { type PlacedTender, tenderPlaces } from "./fill-cases.ts";
export { type FieldLoads, fieldLoads } from "./fill-loads.ts";
export { type FillOptions, fillPlan } from "./fill-plan.ts";
export type * from "./fill-plan-types.ts";
export type { FitOfPlan } from "./fit-plan.ts";
export { type GuideMisfit, guideMisfits } from "./guide-misfits.ts";
export { type GuideInUse, guideMarks, guidesInUse } from "./guides-shown.ts";
export { type InputFacts, inputFacts } from "./input-facts.ts";
export { readInputFile } from "./input-file.ts";
export { inputLines } from "./input-line.ts";
export { isKindRead } from "./kinds-read.ts";
export { LEDGER_PATH, ledgerOf, standsOf } from "./ledger-of-plan.ts";
export { graveDoubt } from "./log-doubts.ts";
export {
  logDigest,
  logOfProduct,
  logsByProduct,
  productNamed,
  readingsByProduct,
} from "./log-of-product.ts";
export { logsAsOne } from "./logs-as-one.ts";
export { spanOf } from "./missing-logs.ts";
export type * from "./need-result-types.ts";
export { type NewPlan, newPlan } from "./new-plan.ts";
export { type NextSeason, nextSeasonPlan } from "./next-season.ts";
export { spreadTooMuchInWords, type WorkedField } from "./not-as-planned.ts";
export {
  NO_SUPPLIER,
  type OrderedField,
  type OrderOfPlan,
  type OrderOptions,
  orderOfPlan,
} from "./order-plan.ts";
export { type OxideRates, ratesOf } from "./oxide-rates.ts";
export { elsewhereNotices, laidAgainNotices, placedNotices } from "./placed-notices.ts";
export { type FieldCapacity, fieldCapacity, type PlanCapacity, planCapacity } from "./plan-capacity.ts";
export { planHash } from "./plan-hash.ts";
export { READ_BY_BUILD_BEFORE } from "./product-put-back.ts";
export { type InputReading, type ReadOptions, readInput, type TakenInput } from "./read-input.ts";
export { INPUT_ROLES, type InputItem, type InputRole } from "./read-items.ts";
export { readPlan, writePlan } from "./read-plan.ts";
export { withCare } from "./remainder-care.ts";
export {
  type FieldWorkDone,
  type Laid,
  type LaidInstead,
  type RemainderOfField,
  remainderMaps,
} from "./remainder-maps.ts";
export { replacedPlan } from "./replaced-plan.ts";
export type * from "./result-types.ts";
export {
  LEVER_LB_PER_AC,
  type MeterUse,
  type RatePoint,
  type RigCapacity,
  ratePoints,
  rigCapacity,
} from "./rig-capacity.ts";
export {
  type AssumedFigure,
  type BinWithoutDensity,
  binsWithoutDensity,
  missingRigKeys,
  type RigBin,
  type RigFigures,
  rigFigures,
} from "./rig-figures.ts";
export { type BinLoad, type RigLoad, rigLoad } from "./rig-load.ts";
export { run } from "./run.ts";
export type { Progress, RunOptions } from "./run-options.ts";
export { inWorkingOrder, type SeasonOptions, seasonOfPlan } from "./season-plan.ts";
export type * from "./season-plan-types.ts";
export type { BlendFacts } from "./settle-blends.ts";
export { beyondMapOnLeftLb, laidLbPerAc, smallRateInWords, smallRateOf } from "./small-rate.ts";
export { SPLIT_LAYERS } from "./split-layers.ts";
export type * from "./split-result-types.ts";
export { spreadAlreadyInWords, spreadInWords } from "./spread-already.ts";
export { spreadCarriers } from "./spread-carriers.ts";
export { stripTooMuchInWords } from "./spread-not-as-planned.ts";
export { createStageCache, type StageCache } from "./stage.ts";
export { capBasisOf, knowsMeanOnly } from "./strip-cap.ts";
export { unusedAnswers } from "./unused-answers.ts";
export { wantedForms } from "./wanted-forms.ts";
export { noticesOfFiles, withCatchUps } from "./with-catch-ups.ts";
export { withMaps } from "./with-maps.ts";
export { type DrivenField, type WorkedPass, workedPasses } from "./worked-passes.ts";
export { beyondController, controllerNotices, writeExtraForms } from "./write-extra-forms.ts";
export { yieldDoubt } from "./yield-notices.ts";
export { type ZeroRate, zeroRateOf } from "./zero-rate.ts";
