import type { FoundLag, TicketInput, TicketResult } from "../../applied/index.ts";
import type { Notice } from "../../errors/index.ts";
import type { AppliedLog } from "../../formats/index.ts";
import type { LedgerEntry, PlacedEntry } from "../../ledger/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { Balance } from "../results/result-types.ts";

/** The log of one product. */
export interface ProductLog {
  readonly product: string;
  readonly log: AppliedLog;
  /** Scale tickets, stock and waste of the product for this field; the log's own pounds are not in it. */
  readonly tickets?: Omit<TicketInput, "loggedLb">;
  /** The pounds used are one figure that somebody typed. */
  readonly isTyped?: boolean;
}

/** A line of the ledger that says what was placed. */
export type EnteredLine = LedgerEntry & PlacedEntry;

/** Pounds of a product that went out in a field, where there is no log: as given, or as the ledger has them. */
export interface ProductPounds {
  readonly product: string;
  readonly lb: number;
  readonly from: "tickets" | "typed" | "ledger";
  /** Doubts about the weighings themselves. */
  readonly notices?: readonly Notice[];
}

/** How late a log's meter follows the map. */
export interface LagOfLog extends FoundLag {
  /** The log's target rates are not the map's, as of one driven by the maps of before: `lagSeconds` is NaN. */
  readonly isOfOtherMap: boolean;
}

/** What a log makes of one product in a field. Lists go by the pieces of the field's passes. */
export interface AppliedProduct {
  readonly product: string;
  readonly bin: string;
  readonly stem: string;
  readonly readings: number;
  readonly plannedLb: number;
  /** By the log: all of it, in the field's pieces, and outside them. */
  readonly loggedLb: number;
  readonly insideLb: number;
  readonly outsideLb: number;
  /** Used by the scale; null without tickets. */
  readonly tickets: TicketResult | null;
  /** By which the log is multiplied: from the tickets, the pounds typed as used, the plan's meter check, the ledger's lines (in the mean), else 1. */
  readonly meterFactor: number;
  readonly meterFactorFrom: "tickets" | "typed" | "plan" | "ledger" | "none";
  /** Lines of the ledger whose work this log shows. */
  readonly shown: readonly EnteredLine[];
  /** Those, and typed ones of the same ground, whose pounds count. */
  readonly entered: readonly EnteredLine[];
  /** On the ground of the field. */
  readonly placedLb: number;
  readonly placedLbPerAc: Float64Array;
  /** Placed less planned where less was placed, and where more was: both from 0 up. */
  readonly missingLb: number;
  readonly overLb: number;
  readonly skippedShare: Float64Array;
  readonly overlappedShare: Float64Array;
  readonly coveredAc: number;
  /** Of it, acres on which the map has a rate and every reading is 0: driven over with the bin empty or shut. */
  readonly nothingLaidAc: number;
  readonly skippedAc: number;
  readonly overlappedAc: number;
  readonly lag: LagOfLog;
  readonly notices: readonly Notice[];
}

/** A product whose log has no reading on ground that the logs of others, `beside`, cover: acres, and lb that its map has there. */
export interface LackingLog {
  readonly product: string;
  readonly areaAc: number;
  readonly lb: number;
  readonly beside: readonly string[];
}

/** A field's logs against its map. */
export interface AppliedField {
  readonly fieldId: string;
  /** Acres of whole passes that no log covers while the strip pass looks unfinished; else 0. In them each product's skipped acres. */
  readonly notDrivenAc: number;
  /** Work of its strip pass that the ledger has and that is not in what was given; no catch-up while there is any. */
  readonly missing: readonly EnteredLine[];
  /** Work of the very logs that the ledger has with other pounds, where these cannot count; no catch-up while there is any. */
  readonly otherPounds: readonly EnteredLine[];
  /** Logs of which a file may lack; no catch-up while there are any. None once the ledger has the strip pass as finished. */
  readonly lacking: readonly LackingLog[];
  /** In the order of the rig's bins; those without a log are left out. */
  readonly products: readonly AppliedProduct[];
  /** Products without a log of which the pounds are known: laid in proportion to the map in what follows. */
  readonly byPounds: readonly (Omit<ProductPounds, "notices"> & {
    readonly stem: string;
    readonly plannedLb: number;
  })[];
  /** Products of which nothing is known: taken as planned in what follows, where any log covers the ground. */
  readonly asPlanned: readonly string[];
  /** The next broadcast maps, in place of the planned ones. */
  readonly catchUp: {
    /** Those that the ledger has as spread already are left out, and told. */
    readonly prescriptions: readonly Prescription[];
    /** need = placed + catch-up + shortage - over - rounding, credits as in the plan; lb oxide. */
    readonly balances: readonly Balance[];
    /** Stems of the planned broadcast maps that must not be spread any more. */
    readonly voids: readonly string[];
  };
  readonly notices: readonly Notice[];
}
