import { InputError } from "../errors/index.ts";
import type { MultiPolygon, Point } from "../geo/index.ts";

/** The plane as a straight guidance line sees it: [metres to the right of the line, metres along it from A]. */
export interface GuidanceFrame {
  toGuidance(plane: Point): Point;
  toPlane(guidance: Point): Point;
}

/** Points nearer than this make no direction worth driving. */
const SHORTEST_LINE_M = 1;

/**
 * The frame of a line from A to B, both in the field's plane, metres. It is turned and moved, not mirrored.
 * Throws `guidance-missing` for fewer than two points, `guidance-not-straight` for more, `guidance-not-finite`, and
 * `guidance-too-short` when A and B are under a metre apart.
 */
export const guidanceFrame = (line: readonly Point[]): GuidanceFrame => {
  const [a, b] = line;
  if (a === undefined || b === undefined) {
    throw new InputError(
      "guidance-missing",
      `The guidance line has ${line.length} points.`,
      "Give the two ends A and B of a straight line.",
    );
  }
  if (line.length > 2) {
    throw new InputError(
      "guidance-not-straight",
      `The guidance line has ${line.length} points; passes are laid along a straight line from A to B.`,
      "Give a line of two points.",
    );
  }
  if (![...a, ...b].every(Number.isFinite)) {
    throw new InputError(
      "guidance-not-finite",
      `The line runs from ${a.join(", ")} to ${b.join(", ")} m.`,
      "Give two points with a number for each coordinate.",
    );
  }
  const runX = b[0] - a[0];
  const runY = b[1] - a[1];
  // Not Math.hypot, whose last digit may differ from one machine to the next.
  const length = Math.sqrt(runX * runX + runY * runY);
  if (length < SHORTEST_LINE_M) {
    throw new InputError(
      "guidance-too-short",
      `The ends A and B of the line are ${length.toFixed(3)} m apart.`,
      "Give two points at least a metre apart, better the length of the field.",
    );
  }
  const eastAlong = runX / length;
  const northAlong = runY / length;
  return {
    toGuidance: ([x, y]) => {
      const east = x - a[0];
      const north = y - a[1];
      return [east * northAlong - north * eastAlong, east * eastAlong + north * northAlong];
    },
    toPlane: ([across, along]) => [
      a[0] + across * northAlong + along * eastAlong,
      a[1] - across * eastAlong + along * northAlong,
    ],
  };
};

/** The same polygons with every point moved; a point that several rings share is moved once and stays shared. */
export const movePolygons = (area: MultiPolygon, move: (point: Point) => Point): MultiPolygon => {
  const moved = new Map<Point, Point>();
  return area.map((polygon) =>
    polygon.map((ring) =>
      ring.map((point) => {
        const known = moved.get(point);
        if (known !== undefined) return known;
        const result = move(point);
        moved.set(point, result);
        return result;
      }),
    ),
  );
};
