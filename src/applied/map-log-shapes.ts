import { boundsOf, containsPoint, distance, type Polygon } from "../geo/index.ts";
import type { LogPiece } from "./log-types.ts";
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
  const cover = (piece: LogPiece): { lengthM: number; owners: number[] } => ({
    lengthM: distance(piece.start, piece.end),
    owners: placesIn(piece, minX, minY).map(([c, r]) => {
      if (c < 0 || r < 0 || c >= columns || r >= rows) return -1;
      const place = r * columns + c;
      times[place] = Math.min(255, times[place]! + 1);
      return owner[place]!;
    }),
  });
  return shareLog(pieces, segments, cover, (s) => coverCounts(owned[s]!, times));
}

/** Test points in the rectangle a piece covers, at least the one nearest its middle; the late end does not count. */
function placesIn(
  { start, end, widthM }: LogPiece,
  minX: number,
  minY: number,
): (readonly [number, number])[] {
  const length = distance(start, end);
  const middle = [
    Math.floor(((start[0] + end[0]) / 2 - minX) / STEP_M),
    Math.floor(((start[1] + end[1]) / 2 - minY) / STEP_M),
  ] as const;
  if (length === 0) return [middle];
  const [u, v] = [(end[0] - start[0]) / length, (end[1] - start[1]) / length];
  const half = widthM / 2;
  const reach = (axis: 0 | 1): readonly [number, number] => {
    const across = Math.abs(axis === 0 ? v : u) * half;
    const low = axis === 0 ? minX : minY;
    return [
      Math.floor((Math.min(start[axis], end[axis]) - across - low) / STEP_M) - 1,
      Math.ceil((Math.max(start[axis], end[axis]) + across - low) / STEP_M) + 1,
    ];
  };
  const found: (readonly [number, number])[] = [];
  const [fromC, toC] = reach(0);
  const [fromR, toR] = reach(1);
  for (let c = fromC; c <= toC; c++) {
    for (let r = fromR; r <= toR; r++) {
      const x = minX + (c + 0.5) * STEP_M - start[0];
      const y = minY + (r + 0.5) * STEP_M - start[1];
      const along = x * u + y * v;
      const right = x * v - y * u;
      if (along >= 0 && along < length && right >= -half && right < half) found.push([c, r]);
    }
  }
  return found.length > 0 ? found : [middle];
}
