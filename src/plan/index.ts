export { withAnsweredOptions } from "./document/answered-options.ts";
export { type Answers, isKeyByFile, isKnownAnswerKey } from "./document/answers.ts";
export { keyOfFile } from "./document/answers-of-file.ts";
export { bandFactor } from "./document/band-factor.ts";
export { depthInches } from "./document/depth-inches.ts";
export { PlanDocument } from "./document/document.ts";
export type * from "./document/document-drive-types.ts";
export type * from "./document/document-need-types.ts";
export type * from "./document/document-rig-types.ts";
export type * from "./document/document-season-types.ts";
export type * from "./document/document-split-types.ts";
export type * from "./document/document-types.ts";
export {
  type BinProduct,
  type Brings,
  binProducts,
  bringsOf,
  type FieldProducts,
  fieldProducts,
  inBinOf,
  laidProducts,
  ownProducts,
  oxideIn,
  partsOf,
  ratioNames,
  type SettledBlend,
  spreadIds,
} from "./document/field-products.ts";
export { LEAST_ROW_SPACING_IN, LEAST_SPREADER_CELL_FT, MOST_ROWS } from "./document/machine-limits.ts";
export { requireField } from "./document/no-such-field.ts";
export { type OxideRates, ratesOf } from "./document/oxide-rates.ts";
export { mapsHash, planHash } from "./document/plan-hash.ts";
export { typedPrices } from "./document/price-of-product.ts";
export { readPlan, writePlan } from "./document/read-plan.ts";
export { firstWorkedDay } from "./document/season-of-date.ts";
export { SPLIT_LAYERS } from "./document/split-layers.ts";
export { createStageCache, type StageCache } from "./document/stage.ts";
export { unusedAnswers } from "./document/unused-answers.ts";
export { wantedForms } from "./document/wanted-forms.ts";
export { isZeroRateTold, type ZeroRate, zeroRateIn, zeroRateOf } from "./document/zero-rate.ts";
export { appliedField } from "./driven/applied-field.ts";
export type * from "./driven/applied-types.ts";
export { type BinToEmpty, binsToEmpty } from "./driven/bins-to-empty.ts";
export { isCatchUpName, plannedStemOf } from "./driven/catch-up-maps.ts";
export { givenOfField } from "./driven/given-of-field.ts";
export {
  isHeldBack,
  requireCatchUps,
  requireStripFinished,
  type WaitsFor,
  waitsFor,
} from "./driven/held-back.ts";
export type { LaidInstead } from "./driven/laid-instead.ts";
export { graveDoubt } from "./driven/log-doubts.ts";
export {
  logDigest,
  logOfProduct,
  logsByProduct,
  productNamed,
  readingsByProduct,
} from "./driven/log-of-product.ts";
export { fieldsCrossed, fieldsOfLog, logsInField, logsNotInField } from "./driven/readings-in-plane.ts";
export { withCare } from "./driven/remainder-care.ts";
export {
  type FieldWorkDone,
  type Laid,
  type RemainderOfField,
  remainderMaps,
} from "./driven/remainder-maps.ts";
export { spanOf } from "./driven/shown-work.ts";
export {
  type DoneAfter,
  doneAfter,
  LEAST_LEFT_AC,
  nothingLeft,
  requireSomethingLeft,
} from "./fills/done-after.ts";
export { type FieldWorkRate, fieldWorkRate, HEADLAND_MPH } from "./fills/field-work-rate.ts";
export { type PlacedTender, tenderPlaces } from "./fills/fill-cases.ts";
export { type FieldLoads, fieldLoads } from "./fills/fill-loads.ts";
export { type FillOptions, fillPlan } from "./fills/fill-plan.ts";
export type * from "./fills/fill-plan-types.ts";
export { type DrivenField, type WorkedPass, workedPasses } from "./fills/worked-passes.ts";
export { beyondMapOnLeftLb, laidLbPerAc, smallRateInWords, smallRateOf } from "./maps/small-rate.ts";
export { spreadCarriers } from "./maps/spread-carriers.ts";
export { capBasisOf, knowsMeanOnly } from "./maps/strip-cap.ts";
export { beyondController, controllerNotices, writeExtraForms } from "./maps/write-extra-forms.ts";
export { type ExplainedCell, explainCell } from "./need/explain-cell.ts";
export { type FieldGuide, fieldGuide } from "./need/field-guide.ts";
export { type FieldOutline, outlinesOf } from "./need/field-outlines.ts";
export { TEST_UNITS } from "./need/field-test.ts";
export { type GuideInUse, guideMarks, guidesInUse } from "./need/guides-shown.ts";
export { yieldDoubt } from "./need/yield-notices.ts";
export { lastFields } from "./new-plan/cover-after.ts";
export { type NewPlan, newPlan } from "./new-plan/new-plan.ts";
export { type NextSeason, nextSeasonPlan } from "./new-plan/next-season.ts";
export { replacedPlan } from "./new-plan/replaced-plan.ts";
export { coatedInOrderWords, coatOfMap, coatPercentText } from "./order/coated-order.ts";
export type { FitOfPlan } from "./order/fit-plan.ts";
export { type OrderOfPlan, type OrderOptions, orderOfPlan } from "./order/order-plan.ts";
export type { OrderedField } from "./order/ordered-field.ts";
export { NO_SUPPLIER } from "./order/ratio-terms.ts";
export type * from "./results/drive-result-types.ts";
export {
  type FieldCare,
  type FieldSalt,
  IN_CROP_CARE,
  type NotedSalt,
  type RidingMicronutrient,
} from "./results/field-care.ts";
export type * from "./results/need-result-types.ts";
export type * from "./results/result-types.ts";
export type { Progress, RunOptions } from "./results/run-options.ts";
export type * from "./results/split-result-types.ts";
export {
  LEVER_LB_PER_AC,
  type MeterUse,
  type RatePoint,
  type RigCapacity,
  ratePoints,
  rigCapacity,
} from "./rig/rig-capacity.ts";
export {
  type AssumedFigure,
  type BinWithoutDensity,
  binsWithoutDensity,
  missingRigKeys,
  type RigBin,
  type RigFigures,
  rigFigures,
} from "./rig/rig-figures.ts";
export { type BinLoad, type RigLoad, rigLoad } from "./rig/rig-load.ts";
export { rigWidthM } from "./rig/rig-width.ts";
export { run } from "./run.ts";
export {
  type FieldCapacity,
  fieldCapacity,
  type PlanCapacity,
  planCapacity,
} from "./season/plan-capacity.ts";
export { inWorkingOrder, type SeasonOptions, seasonOfPlan } from "./season/season-plan.ts";
export type * from "./season/season-plan-types.ts";
export type { FileSource } from "./sources/file-source.ts";
export { type GuideMisfit, guideMisfits } from "./sources/guide-misfits.ts";
export { type InputFacts, inputFacts } from "./sources/input-facts.ts";
export { readInputFile } from "./sources/input-file.ts";
export { inputLines } from "./sources/input-line.ts";
export { isKindRead } from "./sources/kinds-read.ts";
export { logsAsOne } from "./sources/logs-as-one.ts";
export { type InputReading, type ReadOptions, readInput, type TakenInput } from "./sources/read-input.ts";
export { INPUT_ROLES, type InputItem, type InputRole } from "./sources/read-items.ts";
export { oxidesInWords } from "./stands/analysis-as-laid.ts";
export { enteredNotices, finishedInPart } from "./stands/entered-notices.ts";
export { LEDGER_PATH, ledgerOf, standsOf } from "./stands/ledger-of-plan.ts";
export { spreadTooMuchInWords, type WorkedField } from "./stands/not-as-planned.ts";
export { elsewhereNotices, laidAgainNotices, placedNotices } from "./stands/placed-notices.ts";
export { READ_BY_BUILD_BEFORE } from "./stands/product-put-back.ts";
export { spreadAlreadyInWords, spreadInWords } from "./stands/spread-already.ts";
export { stripTooMuchInWords } from "./stands/spread-not-as-planned.ts";
export { noticesOfFiles, withCatchUps } from "./with-catch-ups.ts";
export { withMaps } from "./with-maps.ts";
