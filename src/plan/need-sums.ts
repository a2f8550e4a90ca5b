import { sum } from "../numeric/index.ts";
import { acres } from "../units/index.ts";
import type { FieldGrid, SoilMap } from "./result-types.ts";

/** A rate per cell over the field: pounds from lb/ac, acres from ones. */
export function sumNeed(cells: FieldGrid, perAc: Float64Array): number {
  const parts = new Float64Array(perAc.length);
  const { areaM2 } = cells;
  for (let i = 0; i < areaM2.length; i++) if (areaM2[i]! > 0) parts[i] = perAc[i]! * acres(areaM2[i]!);
  return sum(parts);
}

/** Mean of the needs at the samples themselves, lb/ac; a sample without a CEC takes that of the map there. */
export function sampleNeeds(
  rate: (test: number, cecMeq: number, cell: number) => number,
  map: SoilMap,
  cells: FieldGrid,
  cec: Float64Array | undefined,
): number {
  const needs = map.taken.map((sample) => {
    const cell = cellAt(cells, sample.at);
    return rate(sample.value, sample.cecMeq ?? cec?.[cell] ?? Number.NaN, cell);
  });
  const known = needs.filter((need) => !Number.isNaN(need));
  return known.length === 0 ? Number.NaN : known.reduce((total, need) => total + need, 0) / known.length;
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
