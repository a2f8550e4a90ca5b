export { type CellClass, type CellClasses, type CellClassesInput, cellClasses } from "./cell-classes.ts";
export { commonCeiling } from "./common-ceiling.ts";
export { lbPer1000Ft, type SaltInput, type SaltLadder, saltCap, saltLadder } from "./salt-ladder.ts";
export { type SaltThresholds, saltThresholdSources, saltThresholds } from "./salt-thresholds.ts";
export { type CeilingSplit, type SplitInput, splitByCeiling } from "./split-by-ceiling.ts";
export {
  type NeedLayer,
  type PriorityInput,
  type PrioritySplit,
  splitByPriority,
} from "./split-by-priority.ts";
export { type ShareInput, type ShareSplit, splitByShare } from "./split-by-share.ts";
export { splitByValue, type ValueClass, type ValueSplit } from "./split-by-value.ts";
export { splitOptimum } from "./split-optimum.ts";
export { type MergedClasses, mergeEqualClasses } from "./split-optimum-merge.ts";
export { type Highs, loadSplitSolver, type SolverOptions } from "./split-optimum-solver.ts";
export type {
  NutrientAmounts,
  OptimumClass,
  OptimumClassRates,
  OptimumField,
  OptimumInput,
  OptimumProduct,
  SplitNutrient,
  SplitOptimum,
  StripWorth,
} from "./split-optimum-types.ts";
