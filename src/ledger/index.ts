export {
  acresGoneOver,
  type FieldStand,
  fieldStands,
  isStripped,
  LEAST_SHARE,
  type LogBox,
  MISS_SHARE,
  type PlannedField,
  placedIn,
  type Reach,
  SHORT_SHARE,
  standsElsewhere,
  stripEntries,
  WHOLE_SHARE,
} from "./field-stands.ts";
export type { LedgerEntry, LedgerEvent, LoadedEntry, PlacedEntry } from "./ledger-entry.ts";
export { type Ledger, ledgerAddition, readLedger, standingEntries } from "./ledger-text.ts";
export { hoursOf, isInBox, isNear, type LogSpan } from "./log-span.ts";
