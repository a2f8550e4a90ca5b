import { sum } from "../../numeric/index.ts";
import { type Prescription, spreadToCells } from "../../prescription/index.ts";
import { acres } from "../../units/index.ts";
import type { Pieces } from "./drive-result-types.ts";
import type { FieldGrid, SoilMap } from "./result-types.ts";

/** Something an acre over the field's cells: pounds from lb/ac, acres from ones. Cells without ground count nothing. */
export function sumOver({ areaM2 }: FieldGrid, perAc: Float64Array | ((cell: number) => number)): number {
  const at = typeof perAc === "function" ? perAc : (cell: number) => perAc[cell]!;
  return sum(onCells({ areaM2 }, at));
}

/** The same cell by cell: pounds from lb/ac, 0 where a cell has no ground. */
export function onCells(
  { areaM2 }: Pick<FieldGrid, "areaM2">,
  perAc: (cell: number) => number,
): Float64Array {
  const parts = new Float64Array(areaM2.length);
  for (let cell = 0; cell < parts.length; cell++)
    if (areaM2[cell]! > 0) parts[cell] = perAc(cell) * acres(areaM2[cell]!);
  return parts;
}

/** Mean of the needs at the samples themselves, lb/ac; a sample without a CEC takes that of the map there. */
export function sampleNeeds(
  rate: (test: number, cecMeq: number, cell: number) => number,
  map: SoilMap,
  cells: FieldGrid,
  cec: Float64Array | undefined,
): number {
  const needs = sampleNeedsOf(map, cells, cec, rate);
  const known = needs.filter((need) => !Number.isNaN(need));
  return known.length === 0 ? Number.NaN : known.reduce((total, need) => total + need, 0) / known.length;
}

/** What `rate` makes of each sample, with its own CEC or that of the map there. */
export function sampleNeedsOf(
  map: SoilMap,
  cells: FieldGrid,
  cec: Float64Array | undefined,
  rate: (test: number, cecMeq: number, cell: number) => number,
): number[] {
  return map.taken.map((sample) => {
    const cell = cellAt(cells, sample.at);
    return rate(sample.value, sample.cecMeq ?? cec?.[cell] ?? Number.NaN, cell);
  });
}

function cellAt({ grid }: FieldGrid, [x, y]: readonly [number, number]): number {
  const column = Math.min(grid.nx - 1, Math.max(0, Math.floor(x / grid.cellM) - grid.ix0));
  const row = Math.min(grid.ny - 1, Math.max(0, Math.floor(y / grid.cellM) - grid.iy0));
  return row * grid.nx + column;
}

/**
 * One rate for the whole field, lb/ac: the mean of the need over its cells, or, with a cost share, the quantile of
 * the needs that drive the rates at that share of the area.
 */
export function flatRate(
  cells: FieldGrid,
  mean: Float64Array,
  drives: Float64Array,
  share: number | null,
): number {
  let whole = 0;
  let total = 0;
  for (let i = 0; i < mean.length; i++) {
    const areaM2 = cells.areaM2[i]!;
    if (!(areaM2 > 0)) continue;
    whole += areaM2;
    total += mean[i]! * areaM2;
  }
  if (share === null) return total / whole;
  const inside = [...cells.areaM2.keys()].filter((i) => cells.areaM2[i]! > 0);
  let below = 0;
  for (const i of inside.sort((a, b) => drives[a]! - drives[b]!)) {
    below += cells.areaM2[i]!;
    if (below >= share * whole) return drives[i]!;
  }
  return Number.NaN;
}

/** lb of product that a map's file puts on each cell, by the ground of its pieces. */
export function poundsOnCells(
  { rateLbPerAc }: Pick<Prescription, "rateLbPerAc">,
  { areaAc, overlaps }: Pieces,
  cells: FieldGrid,
): Float64Array {
  const lb = new Float64Array(rateLbPerAc.length);
  for (let k = 0; k < lb.length; k++) lb[k] = rateLbPerAc[k]! * areaAc[k]!;
  return spreadToCells(overlaps, lb, cells.areaM2.length);
}
