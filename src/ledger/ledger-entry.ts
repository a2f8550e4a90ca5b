import type { LogSpan } from "./log-span.ts";

/** What every line of the ledger carries. */
interface LedgerStamp {
  /** 1, 2, 3 ... without gaps. */
  readonly number: number;
  /** 2026-04-18. */
  readonly date: string;
}

/** A map was put on the stick for a field. */
export interface LoadedEntry {
  readonly kind: "loaded";
  readonly fieldId: string;
  readonly map: string;
  readonly revision: string;
}

/** Product went on the ground; from a log, a ticket or typed. */
export interface PlacedEntry {
  readonly kind: "placed";
  readonly fieldId: string;
  readonly pass: "strip" | "broadcast" | "catch-up";
  readonly product: string;
  readonly lb: number;
  readonly areaAc: number;
  readonly map: string;
  readonly revision: string;
  readonly p2o5Lb: number;
  readonly k2oLb: number;
  readonly from: "log" | "tickets" | "typed";
  /** Digits of a SHA-256 of the log's readings of the product, where there was a log. */
  readonly log?: string;
  /** Where and when that log began and ended in the field; lines of earlier versions have none. */
  readonly span?: LogSpan;
}

/** A field is done; from then on it is frozen. */
interface FinishedEntry {
  readonly kind: "finished";
  readonly fieldId: string;
  readonly pass: "strip" | "broadcast" | "catch-up";
}

interface YieldEntry {
  readonly kind: "yield";
  readonly fieldId: string;
  readonly crop: string;
  readonly buPerAc: number;
}

/** Acres that went without a micronutrient that rode on a blend. */
interface MicronutrientLostEntry {
  readonly kind: "micronutrient-lost";
  readonly fieldId: string;
  readonly nutrient: string;
  readonly areaAc: number;
}

/** Takes an earlier line back; the line itself stays in the file. */
interface VoidEntry {
  readonly kind: "void";
  readonly voids: number;
  readonly why: string;
}

export type LedgerEvent =
  | LoadedEntry
  | PlacedEntry
  | FinishedEntry
  | YieldEntry
  | MicronutrientLostEntry
  | VoidEntry;
export type LedgerEntry = LedgerStamp & LedgerEvent;
