import { InputError } from "../errors/index.ts";
import { type RawGeometry, visitRawPoints } from "./raw-layer.ts";

/** No shape of a farm is wider, degrees; what seems so lies across the 180° meridian. */
const WIDEST_DEG = 180;

/**
 * Throws `across-180-degrees`, with where, when a shape has vertices on both sides of the 180° meridian: its plane would
 * take it for a belt round the globe. Longitudes in degrees stand first in each position, or second when `swap`.
 */
export function requireOneSide(geometry: RawGeometry, swap: boolean, where: string): void {
  if (geometry.kind === "point") return;
  const axis = swap ? 1 : 0;
  let [west, east] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  visitRawPoints(geometry, (point) => {
    west = Math.min(west, point[axis]);
    east = Math.max(east, point[axis]);
  });
  if (!(east - west > WIDEST_DEG)) return;
  throw new InputError(
    "across-180-degrees",
    `${where}: it lies on both sides of the 180° meridian, with longitudes from ${west} to ${east}`,
    "Draw what lies on each side of the meridian as a field of its own, with its own lines and zones.",
  );
}
