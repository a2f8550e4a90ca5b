import { Summer } from "../numeric/index.ts";
import type { MultiPolygon, Point, Polygon, Ring } from "./types.ts";

/** Twice the signed area swept from a reference point; the reference keeps the products small. */
const addSwept = (summer: Summer, ring: Ring, [refX, refY]: Point, sign: number): void => {
  const last = ring[ring.length - 1];
  if (last === undefined) return;
  let fromX = last[0] - refX;
  let fromY = last[1] - refY;
  for (const [x, y] of ring) {
    const toX = x - refX;
    const toY = y - refY;
    summer.add(sign * fromX * toY);
    summer.add(-sign * toX * fromY);
    fromX = toX;
    fromY = toY;
  }
};

/** Signed area: positive counter-clockwise; in the square of the points' unit (m2 in a plane). */
export const ringArea = (ring: Ring): number => {
  const summer = new Summer();
  if (ring.length > 0) addSwept(summer, ring, ring[0]!, 1);
  return summer.total / 2;
};

/** Outer ring less holes, whichever way they run. */
export const polygonArea = (polygon: Polygon): number => {
  const summer = new Summer();
  polygon.forEach((ring, index) => {
    summer.add(index === 0 ? Math.abs(ringArea(ring)) : -Math.abs(ringArea(ring)));
  });
  return summer.total;
};

/** Sum over the parts, which are taken not to overlap. */
export const multiPolygonArea = (area: MultiPolygon): number => {
  const summer = new Summer();
  for (const polygon of area) summer.add(polygonArea(polygon));
  return summer.total;
};
