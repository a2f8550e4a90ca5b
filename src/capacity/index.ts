export { type Capacity, type CapacityInput, capacity } from "./capacity.ts";
export {
  type DefaultStatus,
  type OperationsDefault,
  operationsDefault,
  operationsDefaults,
} from "./defaults.ts";
export { type FiniteSource, finiteSource } from "./finite-source.ts";
export { breakEvenHourValue } from "./hour-value.ts";
export { type LeverPoint, type Levers, levers } from "./levers.ts";
export { type ClassSpeeds, type MeteredClass, meterFlow, speedsByClass, topSpeed } from "./meter.ts";
export {
  catchDistanceFt,
  lbPerAcOfOunces,
  type MeterCheck,
  type MeterCheckInput,
  meterCheck,
  ticketShouldReadLb,
  weighedDensity,
} from "./meter-check.ts";
export { type NumberRange, requireNumber } from "./require-number.ts";
export {
  type BinSize,
  FT_MPH_HOURS_PER_AC,
  FT_MPH_MINUTES_PER_AC,
  type Rig,
  type RigWork,
  type Tenders,
  workRate,
} from "./rig.ts";
export {
  acresPerFill,
  type BinsFill,
  divideMovableWall,
  type MeteredBin,
  type MovableWall,
  type WallDivision,
} from "./several-bins.ts";
export {
  type FillEvent,
  type SimulatedField,
  type SimulatedTender,
  type SimulatedWork,
  type SimulateWorkInput,
  simulateWork,
} from "./simulate-work.ts";
export {
  type LeavePolicy,
  leavePolicy,
  type SteadyInput,
  steadyAcPerHour,
  tenderList,
} from "./steady-rate.ts";
export {
  crossoverRate,
  type HoursAtRate,
  hoursAtRate,
  loadsPerTender,
  rateAtHours,
  type TimeLine,
  type TimeLines,
  type TimeLinesInput,
  timeLines,
  timeLinesOf,
} from "./time-lines.ts";
export { meteredOfScaleLb, type UsableLoad, usableLoad } from "./usable-load.ts";
export {
  type PassWork,
  passLoad,
  type RefillEnds,
  wholePassLoad,
  workRateFromPasses,
} from "./whole-passes.ts";
export { type DayStart, startAfterNight, type WorkDayInput, workDay } from "./work-day.ts";
