import type { Notice } from "../../errors/index.ts";
import type { Grade } from "../../products/index.ts";
import type { StripWorth } from "../../split/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { SplitMethod } from "../document/document-split-types.ts";

/** A product's rates over the cells, lb product/ac; NaN outside. */
export interface ProductRates {
  readonly product: string;
  readonly bin: string;
  readonly analysis: Grade;
  /** What would bring the whole need in the strip. */
  readonly full: Float64Array;
  readonly strip: Float64Array;
  readonly rest: Float64Array;
}

/** How a field's need was divided, in figures. */
export interface Split {
  readonly method: SplitMethod;
  /** lb/ac of all products together that the strip was held to; null where nothing holds it. */
  readonly capLbPerAc: number | null;
  /** lb/ac of all products together that no cell's strip rate exceeds; null when the cap cuts nothing. */
  readonly ceilingLbPerAc: number | null;
  /** Common share of what lies above the starter; null for other methods. */
  readonly share: number | null;
  readonly products: readonly ProductRates[];
  /** lb P2O5 of the need that a lb in the strip stands for, a cell each; null where every pound counts as one. */
  readonly p2o5Counts: Float64Array | null;
  /** Parts of the need by what of them stays in the strip, lb oxide; priority only. */
  readonly layers: readonly SplitLayerLb[];
  readonly optimum: FieldOptimum | null;
  /** lb product/ac taken off the full rates, before the cap, by limits near the seed, by meters and by ground the strip is kept off; field mean. */
  readonly limitedLbPerAc: { readonly salt: number; readonly meter: number; readonly kept: number };
  readonly notices: readonly Notice[];
}

/** One layer of a split by priority, lb of oxide. */
export interface SplitLayerLb {
  /** `starter, P2O5`, `below critical, K2O`. */
  readonly name: string;
  readonly nutrient: Oxide;
  readonly needLb: number;
  readonly stripLb: number;
}

/** The cheapest split of a field, in figures. */
export interface FieldOptimum {
  /** Whether the field gets a broadcast pass. */
  readonly pass: boolean;
  /** $ of the field without and with a pass where both were weighed; without is null by itself where the cap leaves need without a place then. */
  readonly usdWithoutPass: number | null;
  readonly usdWithPass: number | null;
  /** Product, and all that counts less the worth of placement. */
  readonly productUsd: number;
  readonly objectiveUsd: number;
  readonly hours: number | null;
  readonly worth: StripWorth;
  readonly classes: number;
  readonly stepLbPerAc: number;
  /** lb of oxide that change place when needs are taken by classes. */
  readonly movedLb: Readonly<Record<Oxide, number>>;
  readonly starterShortLb: Readonly<Record<Oxide, number>>;
  readonly solves: number;
}
