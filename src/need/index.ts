export { type AcresNearJumps, acresNearJumps } from "./acres-near-jumps.ts";
export { type BalanceInput, type BalanceSheet, balanceSheet, type NutrientBalance } from "./balance-sheet.ts";
export { type Credit, type CreditedNeed, needAfterCredits } from "./credits.ts";
export {
  type BuildUpYear,
  buildUpYear,
  type CoveredNeed,
  type CoveringApplication,
  coveredThrough,
  needAfterCover,
} from "./crop-years.ts";
export { expectedNeed, needQuantile, normalQuantile, type Predictive } from "./expected-need.ts";
export {
  type ExplainedNeed,
  type ExplainedNutrient,
  type ExplainInput,
  explainNeed,
  type TypedTest,
} from "./explain-need.ts";
export { type CropOfApplication, needForCrops } from "./need-for-crops.ts";
export {
  type CellNeedInputs,
  type CellNeeds,
  type CellTests,
  type FieldNeedInputs,
  type NutrientNeedInputs,
  type NutrientNeeds,
  needOfNutrient,
  needOverCells,
  withoutRepeats,
} from "./need-over-cells.ts";
export {
  type ChosenSamplings,
  chooseSamplings,
  isOlderThan,
  type Sampling,
  type SamplingChoice,
} from "./sampling.ts";
export { type SoilFacts, soilNotices } from "./soil-notices.ts";
