import { chordsAt, insetLand, linesInside, type MultiPolygon, type Point } from "../geo/index.ts";
import { type CurveSides, curveSides } from "./curve-sides.ts";
import { guidanceFrame, movePolygons } from "./guidance-frame.ts";

/** Where the middle of the rig goes on one pass: a line for each stretch of the interior it crosses. */
export interface PassLine {
  readonly pass: number;
  /** In the field's plane, metres; either way. */
  readonly lines: readonly (readonly Point[])[];
  readonly lengthM: number;
}

/**
 * Centrelines of passes inside the interior, one entry a pass asked for, in the order asked. For straight guidance (two
 * points) and curves alike; by true distance from a curve, so that inside a sharp bend the line has a corner.
 */
export const passLines = (
  interior: MultiPolygon,
  guidance: readonly Point[],
  widthM: number,
  passes: readonly number[],
): PassLine[] => {
  if (guidance.length === 2) return straightLines(interior, guidance, widthM, passes);
  const sides = curveSides(guidance, interior);
  return passes.map((pass) => {
    const lines = linesInside(parallels(sides, pass * widthM), interior);
    return { pass, lines, lengthM: lines.reduce((sum, line) => sum + lineLength(line), 0) };
  });
};

const straightLines = (
  interior: MultiPolygon,
  guidance: readonly Point[],
  widthM: number,
  passes: readonly number[],
): PassLine[] => {
  const { toGuidance, toPlane } = guidanceFrame(guidance);
  const rising = [...new Set(passes)].sort((a, b) => a - b);
  const chords = chordsAt(
    movePolygons(interior, toGuidance),
    rising.map((pass) => pass * widthM),
  );
  const byPass = new Map(rising.map((pass, i) => [pass, chords[i]!]));
  return passes.map((pass) => {
    const own = byPass.get(pass)!;
    return {
      pass,
      lines: own.map(({ fromY, toY }) => [toPlane([pass * widthM, fromY]), toPlane([pass * widthM, toY])]),
      lengthM: own.reduce((sum, { fromY, toY }) => sum + toY - fromY, 0),
    };
  });
};

/** Lines at a distance from a curve, right of it when positive; closed far outside the field. */
const parallels = ({ line, right, left }: CurveSides, offsetM: number): (readonly Point[])[] => {
  if (offsetM === 0) return [line];
  const land = insetLand(offsetM > 0 ? right : left, Math.abs(offsetM));
  return land.flat().map((ring) => [...ring, ring[0]!]);
};

const lineLength = (line: readonly Point[]): number => {
  let length = 0;
  line.forEach(([x, y], i) => {
    if (i > 0) length += Math.sqrt((x - line[i - 1]![0]) ** 2 + (y - line[i - 1]![1]) ** 2);
  });
  return length;
};
