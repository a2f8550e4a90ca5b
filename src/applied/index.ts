export {
  type CatchUp,
  type CatchUpInput,
  type CatchUpZone,
  catchUp,
  type OxideAmounts,
  type OxideBalance,
} from "./catch-up.ts";
export { type FoundLag, findLag } from "./find-lag.ts";
export { type CleanLimits, type CleanLog, cleanLog, type LogPiece, type LogPoint } from "./log-pieces.ts";
export {
  type LoggedSegment,
  type MapLogInput,
  type MappedLog,
  mapLog,
  type SegmentPlaced,
} from "./map-log.ts";
export { mapLogShapes } from "./map-log-shapes.ts";
export {
  type FillPair,
  meterFactorOfFills,
  reconcileTickets,
  type TicketInput,
  type TicketResult,
} from "./reconcile-tickets.ts";
export {
  placedByHand,
  type Remainder,
  type RemainderSegment,
  remainder,
  type WorkDone,
} from "./remainder.ts";
