import { writeCsv } from "../formats/index.ts";
import { middleOf } from "../geo/index.ts";
import type { FieldResult } from "../plan/index.ts";

/**
 * Where the field stays short of its need and where more than the need lies, a row a spreader cell that has either: its
 * middle, acres, and lb oxide/ac, before the spreader's steps. Null where there is nothing to tell.
 */
export function shortAndOverCsv(result: FieldResult): Uint8Array | null {
  const { gaps, swaths, checked } = result;
  const headings = ["lon", "lat", "areaAc"];
  for (const oxide of ["P2O5", "K2O"]) headings.push(`short${oxide}LbPerAc`, `over${oxide}LbPerAc`);
  const rows: (string | number)[][] = [];
  swaths.pieces.forEach((piece, k) => {
    const parts = [gaps.P2O5.short[k]!, gaps.P2O5.over[k]!, gaps.K2O.short[k]!, gaps.K2O.over[k]!];
    if (parts.every((lbPerAc) => lbPerAc < LEAST_LB_PER_AC)) return;
    const [lon, lat] = checked.frame.toLonLat(middleOf(piece.polygon[0]!));
    rows.push([
      lon.toFixed(7),
      lat.toFixed(7),
      swaths.areaAc[k]!.toFixed(4),
      ...parts.map((rate) => rate.toFixed(2)),
    ]);
  });
  return rows.length === 0 ? null : writeCsv(headings, rows);
}

/** Below this a gap is rounding, lb oxide/ac. */
const LEAST_LB_PER_AC = 0.05;
