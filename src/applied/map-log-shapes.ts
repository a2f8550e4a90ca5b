import { boundsOf, containsPoint, distance, type Polygon } from "../geo/index.ts";
import type { LogPiece } from "./log-types.ts";
import { pointsInRectangle } from "./points-in-rectangle.ts";
import { coverCounts, type MappedLog, shareLog } from "./share-log.ts";

/** Test points stand so far apart both ways, metres. */
const STEP_M = 1;

/**
 * The log mapped onto any polygons by swath, for headland passes, curves and pieces cut at an exclusion, where `mapLog`'s
 * lattice does not hold: test points every metre, each belonging to the first polygon that holds it or to none. No pound
 * is lost; skips and overlaps are good to about a metre along edges. Polygons and log in one plane, metres.
 */
export function mapLogShapes(
  pieces: readonly LogPiece[],
  segments: readonly { readonly polygon: Polygon; readonly areaM2: number }[],
): MappedLog {
  const { minX, minY, maxX, maxY } =
    segments.length === 0
      ? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
      : boundsOf(segments.map((segment) => segment.polygon));
  const columns = Math.max(1, Math.ceil((maxX - minX) / STEP_M));
  const rows = Math.max(1, Math.ceil((maxY - minY) / STEP_M));
  const owner = new Int32Array(columns * rows).fill(-1);
  const times = new Uint8Array(columns * rows);
  const owned: number[][] = segments.map(() => []);
  segments.forEach(({ polygon }, s) => {
    const box = boundsOf([polygon]);
    for (let r = Math.floor((box.minY - minY) / STEP_M); r <= (box.maxY - minY) / STEP_M && r < rows; r++) {
      for (
        let c = Math.floor((box.minX - minX) / STEP_M);
        c <= (box.maxX - minX) / STEP_M && c < columns;
        c++
      ) {
        const place = r * columns + c;
        if (owner[place] !== -1) continue;
        if (!containsPoint([polygon], [minX + (c + 0.5) * STEP_M, minY + (r + 0.5) * STEP_M])) continue;
        owner[place] = s;
        owned[s]!.push(place);
      }
    }
  });
  const grid = { corner: [minX, minY], stepM: [STEP_M, STEP_M] } as const;
  const cover = (piece: LogPiece): { lengthM: number; owners: number[] } => ({
    lengthM: distance(piece.start, piece.end),
    owners: pointsInRectangle(piece, grid).map(([c, r]) => {
      if (c < 0 || r < 0 || c >= columns || r >= rows) return -1;
      const place = r * columns + c;
      times[place] = Math.min(255, times[place]! + 1);
      return owner[place]!;
    }),
  });
  return shareLog(pieces, segments, cover, (s) => coverCounts(owned[s]!, times));
}
