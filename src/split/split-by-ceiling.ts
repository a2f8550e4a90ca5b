import { InputError } from "../errors/index.ts";
import { commonCeiling } from "./common-ceiling.ts";

/** What `splitByCeiling` takes. */
export interface SplitInput {
  /** Full rates, lb product/ac in cell order, one array a product; the first fills first. NaN = no value. */
  readonly fullLbPerAc: readonly Float64Array[];
  /** Area of each cell inside the field, m2. */
  readonly areaM2: Float64Array;
  /** lb of all products together per acre of field that the strip may take. */
  readonly capLbPerAc: number;
  /** Whether the cap limits the area-weighted mean of the field or each cell. */
  readonly basis: "field-mean" | "most-in-a-cell";
  /** Least of each product, lb/ac in the same order: it is placed first, as far as the ceiling goes. */
  readonly floorLbPerAc?: readonly Float64Array[];
  /** Inside a cell under the ceiling: fill product after product, or cut all by one factor. */
  readonly order: "first-product-first" | "alike";
}

/** A split under one ceiling. */
export interface CeilingSplit {
  /** lb of all products/ac no cell's strip goes above; Infinity when the whole need fits. */
  readonly ceilingLbPerAc: number;
  /** lb product/ac in the strip, in the order of the products given. */
  readonly stripLbPerAc: readonly Float64Array[];
  /** What is left for the spreader, full less strip, never negative. */
  readonly broadcastLbPerAc: readonly Float64Array[];
}

/**
 * Strip and broadcast shares under one ceiling on the total product of a cell: the flattest strip map that
 * keeps the cap. `field-mean`: the ceiling at which the area-weighted mean strip rate equals the cap.
 * `most-in-a-cell`: the ceiling is the cap. Cells with a NaN rate stay NaN and count nothing.
 * Throws `cap-not-usable`.
 */
export function splitByCeiling(input: SplitInput): CeilingSplit {
  const { fullLbPerAc, areaM2, capLbPerAc, basis, order } = input;
  if (!(capLbPerAc >= 0)) {
    throw new InputError(
      "cap-not-usable",
      `the strip cap ${capLbPerAc} lb/ac is not from 0 up`,
      "Give the lb of all products together that the strip may take per acre.",
    );
  }
  const cells = areaM2.length;
  if (fullLbPerAc.some((rates) => rates.length !== cells))
    throw new Error("rates and areas of different lengths");
  const total = new Float64Array(cells);
  for (const rates of fullLbPerAc) {
    for (let i = 0; i < cells; i++) total[i] = total[i]! + rates[i]!;
  }
  const ceiling = basis === "most-in-a-cell" ? capLbPerAc : commonCeiling(total, areaM2, capLbPerAc);
  const strip =
    input.floorLbPerAc !== undefined
      ? aboveFloors(fullLbPerAc, input.floorLbPerAc, total, ceiling, order)
      : order === "alike"
        ? cutAlike(fullLbPerAc, total, ceiling)
        : fillInOrder(fullLbPerAc, ceiling);
  const broadcast = fullLbPerAc.map((rates, p) => {
    const rest = new Float64Array(cells);
    for (let i = 0; i < cells; i++) rest[i] = rates[i]! - strip[p]![i]!;
    return rest;
  });
  return { ceilingLbPerAc: ceiling, stripLbPerAc: strip, broadcastLbPerAc: broadcast };
}

function cutAlike(full: readonly Float64Array[], total: Float64Array, ceiling: number): Float64Array[] {
  // Never more than the whole, also after rounding: the factor is at most 1.
  return full.map((rates) =>
    rates.map((rate, i) => (total[i]! > ceiling ? rate * (ceiling / total[i]!) : rate)),
  );
}

function fillInOrder(full: readonly Float64Array[], ceiling: number): Float64Array[] {
  const left = new Float64Array(full[0]?.length ?? 0).fill(ceiling);
  return full.map((rates) => {
    const placed = new Float64Array(rates.length);
    for (let i = 0; i < placed.length; i++) {
      placed[i] = Math.min(rates[i]!, left[i]!);
      left[i] = left[i]! - placed[i]!;
    }
    return placed;
  });
}

/** Floors first, product after product; what the ceiling leaves above them by the order. */
function aboveFloors(
  full: readonly Float64Array[],
  floors: readonly Float64Array[],
  total: Float64Array,
  ceiling: number,
  order: SplitInput["order"],
): Float64Array[] {
  const least = full.map((rates, p) => rates.map((rate, i) => Math.min(rate, floors[p]![i]!)));
  const left = total.map((rate) => Math.min(rate, ceiling));
  const placed = least.map((rates) =>
    rates.map((rate, i) => {
      const now = Math.min(rate, left[i]!);
      left[i] = left[i]! - now;
      return now;
    }),
  );
  const above = full.map((rates, p) => rates.map((rate, i) => rate - placed[p]![i]!));
  const room = total.map((_, i) => above.reduce((sum, rates) => sum + rates[i]!, 0));
  return above.map((rates, p) =>
    rates.map((rate, i) => {
      const share = room[i]! > 0 ? Math.min(1, left[i]! / room[i]!) : 0;
      if (order === "alike") return placed[p]![i]! + rate * share;
      const now = Math.min(rate, left[i]!);
      left[i] = left[i]! - now;
      return placed[p]![i]! + now;
    }),
  );
}
