import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";

/** A class for `splitByValue`. */
export interface ValueClass {
  readonly id: string;
  readonly areaAc: number;
  /** lb product/ac, in the order of the products; each product brings one nutrient only. */
  readonly fullLbPerAc: readonly number[];
  readonly floorLbPerAc: readonly number[];
  /** $ a pound of product is worth more in the strip than broadcast. */
  readonly valuePerLb: readonly number[];
  /** lb of salt (N + K2O + S) a pound of product counts, and the most lb/ac of it. */
  readonly saltPerLb?: readonly number[];
  readonly saltCapLbPerAc?: number;
}

/** A split by the worth of each pound. */
export interface ValueSplit {
  /** lb product/ac in the strip, classes and products in the order given. */
  readonly stripLbPerAc: readonly (readonly number[])[];
  /** Worth of the last pound bought, $/lb; 0 when the budget is not used up. */
  readonly shadowPerLb: number;
  readonly leftLb: number;
}

/**
 * The closed form for given values: floors first, then class and product in order of value a pound, each up to its full rate
 * or salt cap, until the budget (mean cap x acres) is gone. The optimum whenever each product brings one nutrient and no
 * salt cap is shared by products whose order of value could change (operations-model b.3); the linear programme otherwise.
 * Throws `floors-above-cap`.
 */
export function splitByValue(classes: readonly ValueClass[], meanStripLbPerAcMost: number): ValueSplit {
  const strip = classes.map((one) =>
    one.floorLbPerAc.map((floor, p) => Math.min(floor, one.fullLbPerAc[p]!)),
  );
  const areaAc = sum(classes.map((one) => one.areaAc));
  const floorLb = sum(classes.map((one, c) => sum(strip[c]!) * one.areaAc));
  let leftLb = meanStripLbPerAcMost * areaAc - floorLb;
  if (leftLb < -1e-9 * Math.max(1, floorLb)) {
    throw new InputError(
      "floors-above-cap",
      `the floors take ${(floorLb / areaAc).toFixed(1)} lb/ac and the strip may take ${meanStripLbPerAcMost}`,
      "Lower the floors or raise the cap.",
    );
  }
  const items = classes.flatMap((one, c) => one.valuePerLb.map((value, p) => ({ one, c, p, value })));
  let shadowPerLb = 0;
  for (const { one, c, p, value } of items.sort((a, b) => b.value - a.value)) {
    const rates = strip[c]!;
    const room = Math.max(0, Math.min(one.fullLbPerAc[p]! - rates[p]!, saltRoom(one, rates, p)));
    const addedLb = Math.min(room * one.areaAc, Math.max(0, leftLb));
    // The price is that of a pound that found no room in the budget.
    if (addedLb < room * one.areaAc && shadowPerLb === 0) shadowPerLb = value;
    rates[p] = rates[p]! + addedLb / one.areaAc;
    leftLb -= addedLb;
  }
  return { stripLbPerAc: strip, shadowPerLb, leftLb: Math.max(0, leftLb) };
}

function saltRoom(one: ValueClass, rates: readonly number[], p: number): number {
  const { saltPerLb, saltCapLbPerAc } = one;
  if (saltPerLb === undefined || saltCapLbPerAc === undefined || saltPerLb[p] === 0)
    return Number.POSITIVE_INFINITY;
  const taken = sum(rates.map((rate, q) => rate * saltPerLb[q]!));
  return (saltCapLbPerAc - taken) / saltPerLb[p]!;
}
