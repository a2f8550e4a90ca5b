import { boundsOf, commonArea, type MultiPolygon, multiPolygonArea } from "../geo/index.ts";
import type { Pieces } from "./result-types.ts";

/** Ground that a piece may share with an exclusion and still not touch it, m2: a common edge, rounded. */
const EDGE_M2 = 0.1;

/**
 * Which pieces reach into excluded ground, 1 or 0 a piece: a controller holds one rate all over a piece, so it must be
 * 0 there. `share` is the excluded share of each cell; pieces on cells without any are passed over.
 */
export function touchedPieces(ground: MultiPolygon, share: Float64Array, pieces: Pieces): Uint8Array {
  const touched = new Uint8Array(pieces.pieces.length);
  if (ground.length === 0) return touched;
  const { start, cell } = pieces.overlaps;
  const parts = ground.map((polygon) => ({ polygon, box: boundsOf([polygon]) }));
  for (let k = 0; k < touched.length; k++) {
    let isNear = false;
    for (let i = start[k]!; i < start[k + 1]! && !isNear; i++) isNear = share[cell[i]!]! > 0;
    if (!isNear) continue;
    const { polygon } = pieces.pieces[k]!;
    const box = boundsOf([polygon]);
    const near = parts.filter(
      (part) =>
        part.box.minX < box.maxX &&
        part.box.maxX > box.minX &&
        part.box.minY < box.maxY &&
        part.box.maxY > box.minY,
    );
    const common = commonArea(
      near.map((part) => part.polygon),
      [polygon],
    );
    touched[k] = multiPolygonArea(common) > EDGE_M2 ? 1 : 0;
  }
  return touched;
}
