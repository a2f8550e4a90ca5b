export { type CatchUp, type CatchUpClass, catchUp, type OxideAmounts } from "./catch-up.ts";
export { type FoundLag, findLag } from "./find-lag.ts";
export { cleanLog, LONGEST_GAP_M } from "./log-pieces.ts";
export type { LogPiece, LogPoint } from "./log-types.ts";
export { mapLog } from "./map-log.ts";
export { mapLogShapes } from "./map-log-shapes.ts";
export {
  meterFactorOfFills,
  reconcileTickets,
  type TicketInput,
  type TicketResult,
} from "./reconcile-tickets.ts";
export { placedByHand, type Remainder, remainder, type WorkDone } from "./remainder.ts";
export type { MappedLog, SegmentPlaced } from "./share-log.ts";
