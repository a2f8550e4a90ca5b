import { type Bounds, boundsOf } from "./bounds.ts";
import { ringContains } from "./contains-point.ts";
import { distanceToBoundary } from "./distance-to-boundary.ts";
import type { Point, Ring } from "./types.ts";

const middles = (ring: Ring): Point[] =>
  ring.map(([ax, ay], index) => {
    const [bx, by] = ring[(index + 1) % ring.length]!;
    return [(ax + bx) / 2, (ay + by) / 2];
  });

export const boxHolds = (outer: Bounds, inner: Bounds): boolean =>
  outer.minX <= inner.minX &&
  outer.minY <= inner.minY &&
  outer.maxX >= inner.maxX &&
  outer.maxY >= inner.maxY;

/**
 * Whether the ring `inner` lies in the ring `outer`, which it may touch but does not cross: decided by a vertex, or the
 * middle of an edge, that is clear of the outer ring.
 */
export const liesInside = (inner: Ring, outer: Ring): boolean => {
  const { minX, minY, maxX, maxY } = boundsOf([[outer]]);
  const clear = 1e-9 * Math.max(maxX - minX, maxY - minY);
  let best = inner[0]!;
  let farthest = -1;
  for (const probe of [...inner, ...middles(inner)]) {
    const distance = distanceToBoundary([[outer]], probe);
    if (distance > farthest) {
      farthest = distance;
      best = probe;
    }
    if (distance > clear) break;
  }
  return ringContains(outer, best);
};
