import type { MultiPolygon, Point, Ring } from "./types.ts";

/** Whether a ray from the point to the east crosses the ring an odd number of times. */
export const ringContains = (ring: Ring, [x, y]: Point): boolean => {
  let inside = false;
  let from = ring[ring.length - 1];
  for (const to of ring) {
    if (from![1] > y !== to[1] > y) {
      // The side of the edge, by a product: no division, and the same answer whichever way the edge runs.
      const [low, high] = from![1] < to[1] ? [from!, to] : [to, from!];
      const side = (high[0] - low[0]) * (y - low[1]) - (x - low[0]) * (high[1] - low[1]);
      if (side > 0) inside = !inside;
    }
    from = to;
  }
  return inside;
};

/** Whether the point lies on the land: inside a part and in none of its holes. On an edge either answer may come. */
export const containsPoint = (area: MultiPolygon, point: Point): boolean =>
  area.some((polygon) => polygon.every((ring, index) => ringContains(ring, point) === (index === 0)));
