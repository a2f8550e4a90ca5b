export { acresNearJumps } from "./acres-near-jumps.ts";
export { type BalanceSheet, balanceSheet } from "./balance-sheet.ts";
export { type Credit, type CropYear, isInCropYear, needAfterCredits } from "./credits.ts";
export {
  type BuildUpYear,
  buildUpYear,
  type CoveringApplication,
  coveredThrough,
  needAfterCover,
} from "./crop-years.ts";
export { expectedNeed, needQuantile, normalQuantile } from "./expected-need.ts";
export { type ExplainedNeed, type ExplainInput, explainNeed } from "./explain-need.ts";
export { type CropOfApplication, needForCrops } from "./need-for-crops.ts";
export {
  type NutrientNeedInputs,
  type NutrientNeeds,
  needOfNutrient,
  withoutRepeats,
} from "./need-of-nutrient.ts";
export { chooseSamplings, isOlderThan, type Sampling } from "./sampling.ts";
export { soilNotices } from "./soil-notices.ts";
