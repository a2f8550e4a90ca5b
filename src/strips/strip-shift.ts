import type { Point } from "../geo/index.ts";
import { guidanceFrame } from "./guidance-frame.ts";

/**
 * The guidance line moved by half a row so that this year's strips lie between those of the year before: none in even
 * years, half a row right of the line in odd ones (or left). A straight line is moved sideways; `rowSpacingM` in metres.
 */
export const shiftedLine = (
  line: readonly Point[],
  rowSpacingM: number,
  year: number,
  side: "right" | "left" = "right",
): [a: Point, b: Point] => {
  const { toGuidance, toPlane } = guidanceFrame(line);
  const [a, b] = line as readonly [Point, Point];
  if (year % 2 === 0) return [a, b];
  const across = (side === "right" ? 0.5 : -0.5) * rowSpacingM;
  return [toPlane([across, 0]), toPlane([across, toGuidance(b)[1]])];
};
