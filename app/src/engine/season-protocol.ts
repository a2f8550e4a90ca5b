import type {
  AppliedProduct,
  FieldFills,
  Notice,
  OrderOfPlan,
  SeasonOfPlan,
  SeasonOptions,
  UnitSystem,
  WaitsFor,
} from "#core";
import type { LonLat, NamedFile } from "./drawn-types.ts";

/** Where the rig stands, as its bins' scales show it. */
export interface Stand {
  readonly passesDone: number;
  readonly scaleLb: readonly number[];
}

/** A log that was chosen, and the product it is of. */
export interface ChosenLog {
  readonly product: string;
  readonly name: string;
  readonly files: readonly NamedFile[];
}

/** What the sheets of fills, season, order and applied ask the worker. */
export type SeasonAsk =
  | {
      readonly kind: "fills";
      readonly field: string;
      readonly stand: Stand | null;
      readonly system: UnitSystem;
    }
  | { readonly kind: "season"; readonly options: SeasonOptions }
  | { readonly kind: "order" }
  | {
      readonly kind: "applied";
      readonly field: string;
      readonly logs: readonly ChosenLog[];
      readonly isSaved: boolean;
    };

export interface FillsView {
  readonly kind: "fills";
  readonly field: string;
  readonly fills: FieldFills;
  /** What was done when the stops were planned on, `after pass 17 (30 driven)`; empty for the whole field. */
  readonly plannedOn: string;
  /** That the ledger has strips of the field while the stops are of all of it; else empty. */
  readonly begun: string;
  /** Where the rig stands at each stop. */
  readonly stopsAt: readonly LonLat[];
  /** A drawing a bin: what its scale shows pass by pass; empty without a plan. */
  readonly weights: readonly string[];
}

export interface SeasonView {
  readonly kind: "season";
  readonly season: SeasonOfPlan;
  readonly finish: string;
}

export interface OrderView {
  readonly kind: "order";
  readonly order: OrderOfPlan;
}

/** A product's log against its map; lists go by piece of the passes. */
export interface AppliedShown extends Omit<AppliedProduct, "skippedShare" | "overlappedShare"> {
  readonly plannedLbPerAc: Float64Array;
  /** Placed less planned: step of the `diff` ramp, -1 where nothing was planned and nothing placed. */
  readonly steps: Int8Array;
  /** Acres by step of placed less planned. */
  readonly acres: readonly number[];
}

export interface AppliedView {
  readonly kind: "applied";
  readonly field: string;
  readonly products: readonly AppliedShown[];
  readonly balances: readonly {
    readonly nutrient: string;
    readonly needLb: number;
    readonly stripLb: number;
    readonly broadcastLb: number;
    readonly shortageLb: number;
    readonly excessLb: number;
  }[];
  readonly catchUp: readonly { readonly product: string; readonly stem: string; readonly totalLb: number }[];
  readonly voids: readonly string[];
  /** The planned maps and tasks that the catch-up takes the place of, as stick and display show them; null without any. */
  readonly toDelete: { readonly what: string; readonly onStick: string } | null;
  /** Acres that no log covers, where the strip pass is not finished or logs are missing; 0 where they are skips. */
  readonly notDrivenAc: number;
  /** More was laid, by the ledger, than these logs hold. */
  readonly areLogsMissing: boolean;
  /** What catch-up maps wait for: ground yet to be stripped, or in no log, would get its product twice; null where for nothing. */
  readonly waitsFor: WaitsFor | null;
  /** The doubt for which no catch-up map is made of these logs; null without one. */
  readonly graveDoubt: string | null;
  readonly notices: readonly Notice[];
  /** The catch-up maps as files, with what of them goes on a stick and what never, a sentence each; null where they were not asked for. */
  readonly zip: {
    readonly name: string;
    readonly bytes: Uint8Array<ArrayBuffer>;
    readonly said: readonly string[];
  } | null;
}

export type SeasonTold = FillsView | SeasonView | OrderView | AppliedView;
