import type { Polygon } from "../geo/index.ts";

/** Bytes of a .shp of such polygons, one a record: 100 of head, 52 a record, 4 a ring, 16 a vertex, the closing one counted. */
export function shpBytes(polygons: readonly Polygon[]): number {
  let bytes = 100 + 52 * polygons.length;
  for (const polygon of polygons) for (const ring of polygon) bytes += 4 + 16 * (ring.length + 1);
  return bytes;
}
