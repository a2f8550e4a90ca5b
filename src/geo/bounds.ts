import type { MultiPolygon } from "./types.ts";

/** West, south, east, north in the units of the points. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Whether two boxes have a place in common; an edge or a corner is one. */
export const boxesMeet = (one: Bounds, other: Bounds): boolean =>
  one.minX <= other.maxX && other.minX <= one.maxX && one.minY <= other.maxY && other.minY <= one.maxY;

/** The box round every vertex; infinite and inside out for no vertices at all. */
export const boundsOf = (area: MultiPolygon): Bounds => {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const polygon of area) {
    for (const ring of polygon) {
      for (const [x, y] of ring) {
        if (x < minX) minX = x;
        if (x > maxX) maxX = x;
        if (y < minY) minY = y;
        if (y > maxY) maxY = y;
      }
    }
  }
  return { minX, minY, maxX, maxY };
};
