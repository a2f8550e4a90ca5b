import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";

/** A zone for `splitByValue`. */
export interface ValueZone {
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
  /** lb product/ac in the strip, zones and products in the order given. */
  readonly stripLbPerAc: readonly (readonly number[])[];
  /** Worth of the last pound bought, $/lb; 0 when the budget is not used up. */
  readonly shadowPerLb: number;
  readonly leftLb: number;
}

/**
 * The closed form for given values: floors first, then zone and product in order of value a pound, each up to its full rate
 * or salt cap, until the budget (mean cap x acres) is gone. The optimum whenever each product brings one nutrient and no
 * salt cap is shared by products whose order of value could change (operations-model b.3); the linear programme otherwise.
 * Throws `floors-above-cap`.
 */
export function splitByValue(zones: readonly ValueZone[], meanStripLbPerAcMost: number): ValueSplit {
  const strip = zones.map((zone) =>
    zone.floorLbPerAc.map((floor, p) => Math.min(floor, zone.fullLbPerAc[p]!)),
  );
  const areaAc = sum(zones.map((zone) => zone.areaAc));
  const floorLb = sum(zones.map((zone, z) => sum(strip[z]!) * zone.areaAc));
  let leftLb = meanStripLbPerAcMost * areaAc - floorLb;
  if (leftLb < -1e-9 * Math.max(1, floorLb)) {
    throw new InputError(
      "floors-above-cap",
      `the floors take ${(floorLb / areaAc).toFixed(1)} lb/ac and the strip may take ${meanStripLbPerAcMost}`,
      "Lower the floors or raise the cap.",
    );
  }
  const items = zones.flatMap((zone, z) => zone.valuePerLb.map((value, p) => ({ zone, z, p, value })));
  let shadowPerLb = 0;
  for (const { zone, z, p, value } of items.sort((a, b) => b.value - a.value)) {
    const rates = strip[z]!;
    const room = Math.max(0, Math.min(zone.fullLbPerAc[p]! - rates[p]!, saltRoom(zone, rates, p)));
    const addedLb = Math.min(room * zone.areaAc, Math.max(0, leftLb));
    // The price is that of a pound that found no room in the budget.
    if (addedLb < room * zone.areaAc && shadowPerLb === 0) shadowPerLb = value;
    rates[p] = rates[p]! + addedLb / zone.areaAc;
    leftLb -= addedLb;
  }
  return { stripLbPerAc: strip, shadowPerLb, leftLb: Math.max(0, leftLb) };
}

function saltRoom(zone: ValueZone, rates: readonly number[], p: number): number {
  const { saltPerLb, saltCapLbPerAc } = zone;
  if (saltPerLb === undefined || saltCapLbPerAc === undefined || saltPerLb[p] === 0)
    return Number.POSITIVE_INFINITY;
  const taken = sum(rates.map((rate, q) => rate * saltPerLb[q]!));
  return (saltCapLbPerAc - taken) / saltPerLb[p]!;
}
