import { containsPoint, distanceToBoundary, type MultiPolygon, type Point } from "../../geo/index.ts";
import { numberText } from "../../units/index.ts";

/** Metres from a field beyond which a place that belongs to it is taken to be mistyped; ours. */
export const FAR_M = 5_000;

/** Metres from a place to the field's land, 0 in it; not finite where the field's plane has no such place at all. */
export const metresOff = (boundary: MultiPolygon, place: Point): number =>
  containsPoint(boundary, place) ? 0 : distanceToBoundary(boundary, place);

/** How far off that is: `18.2 km`, `far` where the plane does not reach. */
export const farInWords = (metres: number): string =>
  Number.isFinite(metres) ? `${numberText(metres / 1_000, 1)} km` : "far";
