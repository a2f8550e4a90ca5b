import type { Oxide } from "./document-need-types.ts";

/** lb oxide/ac over the cells. */
export interface OxideRates {
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
}

/** Those of one oxide. */
export const ratesOf = (rates: OxideRates, nutrient: Oxide): Float64Array =>
  nutrient === "P2O5" ? rates.p2o5LbPerAc : rates.k2oLbPerAc;
