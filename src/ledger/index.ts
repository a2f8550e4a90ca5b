export { type FieldStand, fieldStands, type PlannedField } from "./field-stands.ts";
export type {
  FinishedEntry,
  LedgerEntry,
  LedgerEvent,
  LedgerStamp,
  LoadedEntry,
  MicronutrientLostEntry,
  PlacedEntry,
  VoidEntry,
  YieldEntry,
} from "./ledger-entry.ts";
export { type Ledger, ledgerAddition, readLedger, standingEntries } from "./ledger-text.ts";
