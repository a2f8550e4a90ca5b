import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { acres, LB_PER_TON } from "../units/index.ts";

/** A micronutrient coated on a blend: it goes where the blend goes, at the rate of the blend. */
export interface CoatedMicronutrient {
  /** `Zn`, `B`. */
  readonly element: string;
  /** lb of the element on a short ton of blend. */
  readonly lbPerTon: number;
}

/** A micronutrient that rides on a product, over a field. */
export interface MicronutrientAlong {
  /** Least and most where the blend goes at all, lb element/ac; NaN where it goes nowhere. */
  readonly lowLbPerAc: number;
  readonly highLbPerAc: number;
  readonly totalLb: number;
  /** Acres the blend does not reach. */
  readonly acresMissed: number;
  /** Acres that get less than was wanted, the missed ones counted; 0 when nothing was said to be wanted. */
  readonly acresBelowWanted: number;
}

/** What rides along with a blend, lb of blend/ac cell by cell (NaN counts nothing). Throws `coating-not-usable`. */
export function micronutrientAlong(
  coated: CoatedMicronutrient,
  blendLbPerAc: Float64Array,
  areaM2: Float64Array,
  wantedLbPerAc = 0,
): MicronutrientAlong {
  if (!(coated.lbPerTon > 0 && coated.lbPerTon < LB_PER_TON)) {
    throw new InputError(
      "coating-not-usable",
      `${coated.lbPerTon} lb ${coated.element} on a ton of blend`,
      "Give the lb of the element on a ton of blend.",
    );
  }
  const rates = blendLbPerAc.map((blend) => (blend * coated.lbPerTon) / LB_PER_TON);
  const reached = rates.filter((rate) => rate > 0);
  const acresWhere = (test: (rate: number) => boolean): number =>
    sum(rates.map((rate, i) => (test(rate) ? acres(areaM2[i]!) : 0)));
  return {
    lowLbPerAc: reached.length === 0 ? Number.NaN : reached.reduce((a, b) => Math.min(a, b)),
    highLbPerAc: reached.length === 0 ? Number.NaN : reached.reduce((a, b) => Math.max(a, b)),
    totalLb: sum(rates.map((rate, i) => (rate > 0 ? rate * acres(areaM2[i]!) : 0))),
    acresMissed: acresWhere((rate) => rate === 0),
    acresBelowWanted: acresWhere((rate) => rate < wantedLbPerAc),
  };
}
