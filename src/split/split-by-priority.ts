import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { commonCeiling } from "./common-ceiling.ts";

/** A part of the need that stays in the strip before the next one does. */
export interface NeedLayer {
  /** `starter`, `below critical`, `maintenance`, `build-up`. */
  readonly name: string;
  /** Product, counted from 0, that brings it. */
  readonly product: number;
  /** lb product/ac in cell order; NaN = no value. */
  readonly lbPerAc: Float64Array;
}

/** What `splitByPriority` takes. */
export interface PriorityInput {
  /** First layer first: what is listed last leaves the strip first. */
  readonly layers: readonly NeedLayer[];
  readonly products: number;
  readonly areaM2: Float64Array;
  /** lb of all products together per acre of field that the strip may take. */
  readonly capLbPerAc: number;
  /** Whether the cap limits the area-weighted mean of the field or each cell. */
  readonly basis: "field-mean" | "most-in-a-cell";
  /**
   * `cell`: one ceiling for all cells, each cell fills its layers under it. `field` (with a field mean): a layer goes in
   * everywhere before the next one does anywhere; the layer the budget ends in is cut by one ceiling of its own.
   */
  readonly across: "cell" | "field";
}

/** A split by layers. */
export interface PrioritySplit {
  readonly stripLbPerAc: readonly Float64Array[];
  readonly broadcastLbPerAc: readonly Float64Array[];
  /** lb/ac of each layer that stays in the strip. */
  readonly keptLbPerAc: readonly Float64Array[];
}

/**
 * What stays in the strip under a cap, by layers of the need. Every pound is in the strip or the broadcast map.
 * Throws `cap-not-usable`.
 */
export function splitByPriority(input: PriorityInput): PrioritySplit {
  const { layers, products, areaM2, capLbPerAc, basis, across } = input;
  if (!(capLbPerAc >= 0)) {
    throw new InputError(
      "cap-not-usable",
      `the strip cap ${capLbPerAc} lb/ac is not from 0 up`,
      "Give the lb of all products together that the strip may take per acre.",
    );
  }
  const kept = across === "field" && basis === "field-mean" ? keepAcross(input) : keepInCells(input);
  const empty = (): Float64Array[] => Array.from({ length: products }, () => new Float64Array(areaM2.length));
  const strip = empty();
  const broadcast = empty();
  layers.forEach(({ product, lbPerAc }, l) => {
    for (let i = 0; i < areaM2.length; i++) {
      strip[product]![i] = strip[product]![i]! + kept[l]![i]!;
      broadcast[product]![i] = broadcast[product]![i]! + (lbPerAc[i]! - kept[l]![i]!);
    }
  });
  return { stripLbPerAc: strip, broadcastLbPerAc: broadcast, keptLbPerAc: kept };
}

function keepInCells({ layers, areaM2, capLbPerAc, basis }: PriorityInput): Float64Array[] {
  const total = areaM2.map((_, i) => sum(layers.map((layer) => layer.lbPerAc[i]!)));
  const ceiling = basis === "field-mean" ? commonCeiling(total, areaM2, capLbPerAc) : capLbPerAc;
  const left = new Float64Array(areaM2.length).fill(ceiling);
  return layers.map(({ lbPerAc }) =>
    lbPerAc.map((rate, i) => {
      const placed = Math.min(rate, left[i]!);
      left[i] = left[i]! - placed;
      return placed;
    }),
  );
}

function keepAcross({ layers, areaM2, capLbPerAc }: PriorityInput): Float64Array[] {
  const areaOf = (rates: Float64Array): number => sum(areaM2.filter((_, i) => !Number.isNaN(rates[i]!)));
  let leftPerAc = capLbPerAc;
  return layers.map(({ lbPerAc }) => {
    const area = areaOf(lbPerAc);
    const ceiling = commonCeiling(lbPerAc, areaM2, leftPerAc);
    const placed = lbPerAc.map((rate) => Math.min(rate, ceiling));
    const lb = sum(placed.map((rate, i) => (Number.isNaN(rate) ? 0 : rate * areaM2[i]!)));
    leftPerAc = area > 0 ? Math.max(0, leftPerAc - lb / area) : leftPerAc;
    return placed;
  });
}
