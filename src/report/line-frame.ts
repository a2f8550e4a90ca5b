import type { Point } from "../geo/index.ts";
import { guidanceFrame } from "../strips/index.ts";
import { numberText } from "../units/index.ts";

/** The plane as the line A-B sees it: [metres to its right, metres along it from A]. */
export interface LineFrame {
  toLine(plane: Point): Point;
  toPlane(line: Point): Point;
  /** Direction of B from A, degrees clockwise from north, 0 to 360. */
  readonly headingDeg: number;
}

/** The frame of the line from A to B. */
export function lineFrame([a, b]: readonly [Point, Point]): LineFrame {
  const { toGuidance, toPlane } = guidanceFrame([a, b]);
  const heading = (Math.atan2(b[0] - a[0], b[1] - a[1]) * 180) / Math.PI;
  return { toLine: toGuidance, toPlane, headingDeg: heading < 0 ? heading + 360 : heading };
}

const winds = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

/** The nearest of eight winds. */
export const windOf = (headingDeg: number): string => winds[Math.round(headingDeg / 45) % 8]!;

/** Degrees to a tenth, never 360.0. */
export const headingText = (headingDeg: number): string =>
  numberText((Math.round(headingDeg * 10) % 3600) / 10, 1);
