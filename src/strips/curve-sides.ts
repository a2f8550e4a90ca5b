import { InputError } from "../errors/index.ts";
import { boundsOf, type MultiPolygon, type Point, type Ring, ringFaults } from "../geo/index.ts";

/** A digitised guidance line, run on straight at both ends until it parts a wide disc in two. */
export interface CurveSides {
  /** The line from end to end of the disc. */
  readonly line: readonly Point[];
  readonly disc: Ring;
  /** The disc's halves right and left of the line. */
  readonly right: MultiPolygon;
  readonly left: MultiPolygon;
}

/** The disc reaches so many times as far as anything on the field: inside the field its rim is never nearer than the line. */
const REACH = 4;
const RIM_CORNERS = 128;
/** Points nearer than this to the one before are left out. */
const SAME_M = 1e-3;

/**
 * Throws `guidance-crosses-itself` with the place when the line, run on straight, meets itself: then no side is its right.
 */
export const curveSides = (curve: readonly Point[], land: MultiPolygon): CurveSides => {
  const points = curve.filter(
    ([x, y], i) => i === 0 || Math.abs(x - curve[i - 1]![0]) + Math.abs(y - curve[i - 1]![1]) > SAME_M,
  );
  const { minX, minY, maxX, maxY } = boundsOf([...land, [points]]);
  const centre: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  const radius = REACH * (Math.sqrt((maxX - minX) ** 2 + (maxY - minY) ** 2) / 2);
  const start = rimFrom(points[1]!, points[0]!, centre, radius);
  const end = rimFrom(points[points.length - 2]!, points[points.length - 1]!, centre, radius);
  const line = [start, ...points, end];
  const right = [...line.toReversed(), ...rimBetween(start, end, centre, radius)];
  const left = [...line, ...rimBetween(end, start, centre, radius)];
  const [fault] = ringFaults([[right]]).filter(({ kind }) => kind !== "repeated");
  if (fault !== undefined) {
    const [x, y] = fault.place;
    throw new InputError(
      "guidance-crosses-itself",
      `The guidance line, run on straight at both ends, meets itself near ${x.toFixed(1)}, ${y.toFixed(1)} m.`,
      "Draw a line that goes across the field once and bends less at its ends.",
    );
  }
  const disc = [
    start,
    ...rimBetween(start, end, centre, radius),
    end,
    ...rimBetween(end, start, centre, radius),
  ];
  return { line, disc, right: [[right]], left: [[left]] };
};

/** Where the ray from one point through another leaves the disc. */
const rimFrom = ([fromX, fromY]: Point, [x, y]: Point, [cx, cy]: Point, radius: number): Point => {
  const length = Math.sqrt((x - fromX) ** 2 + (y - fromY) ** 2);
  const [wayX, wayY] = [(x - fromX) / length, (y - fromY) / length];
  const along = (x - cx) * wayX + (y - cy) * wayY;
  const off2 = (x - cx) ** 2 + (y - cy) ** 2 - radius * radius;
  const reach = -along + Math.sqrt(along * along - off2);
  return [x + reach * wayX, y + reach * wayY];
};

/** Corners of the rim from one place on it to another, counter-clockwise, without the two. */
const rimBetween = (from: Point, to: Point, [cx, cy]: Point, radius: number): Point[] => {
  const turn = (2 * Math.PI) / RIM_CORNERS;
  const angleOf = ([x, y]: Point): number => Math.atan2(y - cy, x - cx);
  const start = angleOf(from);
  const span = (((angleOf(to) - start) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const corners: Point[] = [];
  for (let k = 1; k * turn < span - turn / 2; k++) {
    corners.push([cx + radius * Math.cos(start + k * turn), cy + radius * Math.sin(start + k * turn)]);
  }
  return corners;
};
