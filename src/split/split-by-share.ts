import { InputError } from "../errors/index.ts";
import { Summer } from "../numeric/index.ts";

/** What `splitByShare` takes. */
export interface ShareInput {
  /** Full rates, lb product/ac in cell order, one array a product; the first fills first. NaN = no value. */
  readonly fullLbPerAc: readonly Float64Array[];
  /** Least of each product in the strip, same shape; a floor above the full rate raises it. */
  readonly floorLbPerAc?: readonly Float64Array[];
  /** Most lb of all products per acre a cell's strip may take. */
  readonly mostLbPerAc?: Float64Array;
  /** Area of each cell inside the field, m2. */
  readonly areaM2: Float64Array;
  /** lb of all products together per acre of field that the strip may take, area-weighted mean. */
  readonly meanCapLbPerAc: number;
  /** Above the floors: fill product after product, or all by one factor. */
  readonly order: "first-product-first" | "alike";
}

/** A split by one share. */
export interface ShareSplit {
  /** Share s of what lies above the floor that goes in the strip; 1 when the whole need fits. */
  readonly share: number;
  /** True when the floors alone lie above the cap: the strip then gets the floors and no more. */
  readonly floorsAboveCap: boolean;
  readonly stripLbPerAc: readonly Float64Array[];
  /** Full less strip, never negative. */
  readonly broadcastLbPerAc: readonly Float64Array[];
}

/**
 * Strip shares with one common share: a cell's strip takes min(most, floor + s (full - floor)), s so that the mean is the
 * cap. Exact: the mean is piecewise linear in s. Cells with a NaN rate stay NaN and count nothing. Throws `cap-not-usable`.
 */
export function splitByShare(input: ShareInput): ShareSplit {
  const { fullLbPerAc, areaM2, meanCapLbPerAc, order } = input;
  if (!(meanCapLbPerAc >= 0)) {
    throw new InputError(
      "cap-not-usable",
      `the strip cap ${meanCapLbPerAc} lb/ac is not from 0 up`,
      "Give the lb of all products together that the strip may take per acre.",
    );
  }
  const cells = areaM2.length;
  const floors = fullLbPerAc.map((_, p) => input.floorLbPerAc?.[p] ?? new Float64Array(cells));
  const full = fullLbPerAc.map((rates, p) => rates.map((rate, i) => Math.max(rate, floors[p]![i]!)));
  const floor = totalOf(floors, cells);
  const whole = totalOf(full, cells);
  const most = whole.map((rate, i) => Math.max(floor[i]!, Math.min(rate, input.mostLbPerAc?.[i] ?? rate)));
  const share = commonShare(floor, whole, most, areaM2, meanCapLbPerAc);
  const total = whole.map((rate, i) =>
    Math.min(most[i]!, floor[i]! + Math.max(0, share) * (rate - floor[i]!)),
  );
  const strip =
    order === "alike" ? alike(full, floors, floor, whole, total) : inOrder(full, floors, floor, total);
  return {
    share: Math.max(0, share),
    floorsAboveCap: share < 0,
    stripLbPerAc: strip,
    broadcastLbPerAc: full.map((rates, p) => rates.map((rate, i) => Math.max(0, rate - strip[p]![i]!))),
  };
}

function totalOf(maps: readonly Float64Array[], cells: number): Float64Array {
  const total = new Float64Array(cells);
  for (const rates of maps) for (let i = 0; i < cells; i++) total[i] = total[i]! + rates[i]!;
  return total;
}

/** The s at which the mean of min(most, floor + s (full - floor)) is the cap; 1 when it is never reached, -1 when floors exceed it. */
function commonShare(
  floor: Float64Array,
  full: Float64Array,
  most: Float64Array,
  area: Float64Array,
  cap: number,
): number {
  const cells = [...area.keys()].filter((i) => !Number.isNaN(full[i]!) && area[i]! > 0);
  const budget = new Summer();
  const slope = new Summer();
  for (const i of cells) {
    budget.add((cap - floor[i]!) * area[i]!);
    slope.add((full[i]! - floor[i]!) * area[i]!);
  }
  if (budget.total < 0) return -1;
  const reach = (i: number): number => (most[i]! - floor[i]!) / (full[i]! - floor[i]!);
  const held = cells.filter((i) => full[i]! > floor[i]!).sort((a, b) => reach(a) - reach(b));
  let at = 0;
  for (const i of held) {
    const next = Math.min(1, reach(i));
    const need = (next - at) * slope.total;
    if (need >= budget.total) return at + budget.total / slope.total;
    budget.add(-need);
    slope.add(-(full[i]! - floor[i]!) * area[i]!);
    at = next;
  }
  return 1;
}

function alike(
  full: readonly Float64Array[],
  floors: readonly Float64Array[],
  floor: Float64Array,
  whole: Float64Array,
  total: Float64Array,
): Float64Array[] {
  return full.map((rates, p) =>
    rates.map((rate, i) => {
      const room = whole[i]! - floor[i]!;
      const share = room > 0 ? Math.min(1, (total[i]! - floor[i]!) / room) : 0;
      return floors[p]![i]! + share * (rate - floors[p]![i]!);
    }),
  );
}

function inOrder(
  full: readonly Float64Array[],
  floors: readonly Float64Array[],
  floor: Float64Array,
  total: Float64Array,
): Float64Array[] {
  const left = total.map((rate, i) => rate - floor[i]!);
  return full.map((rates, p) =>
    rates.map((rate, i) => {
      const placed = Math.min(rate - floors[p]![i]!, Math.max(0, left[i]!));
      left[i] = left[i]! - placed;
      return floors[p]![i]! + placed;
    }),
  );
}
