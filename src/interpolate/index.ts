export { type AveragedModel, type AveragedNode, averagedModel } from "./averaged-model.ts";
export {
  type BandThread,
  type BandThreads,
  bandAnswers,
  type FromBandThread,
  keepThreads,
  type ThreadHost,
  type ToBandThread,
} from "./band-threads.ts";
export {
  type ChooseModelOptions,
  type ChosenModel,
  type Correction,
  chooseModel,
  choosePooledModels,
  LEAST_SAMPLES,
} from "./choose-model.ts";
export { deviance } from "./deviance.ts";
export { empiricalVariogram, type VariogramBin } from "./empirical-variogram.ts";
export { type FittedVariogram, type FitWeights, fitVariogram } from "./fit-variogram.ts";
export { type GridKriger, gridKriger } from "./grid-kriger.ts";
export { inverseDistance, inverseDistanceGrid } from "./inverse-distance.ts";
export { krige, krigeTargets, type PacedTargets } from "./krige.ts";
export { krigeGrid } from "./krige-grid.ts";
export { leaveOneOut, leaveOneOutInverseDistance, leaveOneOutMean } from "./leave-one-out.ts";
export { type LeaveOneOutTable, leaveOneOutTable } from "./leave-one-out-table.ts";
export { NUGGET_SHARES, RELATIVE_RANGES } from "./likelihood-grid.ts";
export { type Decision, mapDecisions } from "./map-decisions.ts";
export type { MapFacts, SamplesBefore } from "./map-facts.ts";
export { mapSamples } from "./map-samples.ts";
export { mapTargets, type TargetMap } from "./map-targets.ts";
export { median } from "./median.ts";
export { pooledModels } from "./pooled-models.ts";
export { predictiveFactor } from "./predictive-factor.ts";
export { StoppedError } from "./stopped-error.ts";
export type {
  Anisotropy,
  Arithmetic,
  Block,
  GridJob,
  InverseDistanceOptions,
  Kriged,
  KrigeOptions,
  Pacing,
  Parallel,
  RowBand,
  Samples,
  Structure,
  StructureType,
  Targets,
  VariogramModel,
} from "./types.ts";
export { type BandPoint, variogramBand } from "./variogram-band.ts";
export { checkModel, semivariance } from "./variogram-model.ts";
