/** The engine's table of contents for the page, the command line's users and programs that import it. */
export * from "./agronomy/index.ts";
export { placedByHand } from "./applied/index.ts";
export * from "./capacity/index.ts";
export * from "./errors/index.ts";
export {
  dayOfClock,
  fileStem,
  lastOfPath,
  packShapefiles,
  readZip,
  sha256Hex,
  writeZip,
} from "./formats/index.ts";
export {
  type Grid,
  M_PER_DEG,
  type MultiPolygon,
  nestRings,
  type Point,
  type Polygon,
  type Ring,
  ringContains,
} from "./geo/index.ts";
export {
  type BandPoint,
  type BandThread,
  type BandThreads,
  bandAnswers,
  empiricalVariogram,
  type FittedVariogram,
  type FromBandThread,
  fitVariogram,
  keepThreads,
  type Parallel,
  StoppedError,
  type ThreadHost,
  type ToBandThread,
  type VariogramBin,
  type VariogramModel,
  variogramBand,
} from "./interpolate/index.ts";
export type { BalanceSheet } from "./need/index.ts";
export { sum } from "./numeric/index.ts";
export {
  bridgeLimitLb,
  federalLimitsLb,
  nutrientPrice,
  type OrderEntry,
  oneNameEach,
  truckLoadTons,
  USUAL_LOT_TONS,
  whatIfCost,
} from "./order/index.ts";
export * from "./plan/index.ts";
export { type Prescription, RATE_COLUMN } from "./prescription/index.ts";
export * from "./products/index.ts";
export * from "./publish/index.ts";
export * from "./report/index.ts";
export {
  COLUMN_CHOICES,
  COLUMN_UNITS,
  columnKey,
  type LabMeaning,
  leaveOutKey,
  mendKey,
  readHeadings,
} from "./soil/index.ts";
export * from "./split/index.ts";
export * from "./units/index.ts";
