import type { Point } from "./types.ts";

const MEAN_RADIUS_M = 6_371_008.8;
/** Metres in a degree of latitude on that sphere: near enough for what is only drawn, pointed at or told apart. */
export const M_PER_DEG: number = (MEAN_RADIUS_M * Math.PI) / 180;
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/**
 * Metres from one place in degrees to another by the great circle of a sphere with the globe's mean radius (IUGG); within
 * 0.6 % of the way over the ellipsoid. For places too far apart for one plane.
 */
export function globeDistance([lonA, latA]: Point, [lonB, latB]: Point): number {
  const north = Math.sin(radians(latB - latA) / 2) ** 2;
  const east = Math.sin(radians(lonB - lonA) / 2) ** 2;
  const chord = north + Math.cos(radians(latA)) * Math.cos(radians(latB)) * east;
  return 2 * MEAN_RADIUS_M * Math.asin(Math.min(1, Math.sqrt(chord)));
}
