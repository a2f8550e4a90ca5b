import { distance } from "./distance.ts";
import { addEdge, EdgeIndex, type Edges, noEdges } from "./edge-index.ts";
import type { CleanRing, RingFault, VertexPlace } from "./ring-fault.ts";
import type { Point } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/** A corner of a ring: the vertex with the ones before and after it. Corner i begins edge i. */
interface Corner extends VertexPlace {
  readonly before: Point;
  readonly at: Point;
  readonly after: Point;
  /** Number of the corner before; its edge ends here. */
  readonly previous: number;
}

const cornersOf = (rings: readonly CleanRing[]): Corner[] => {
  const corners: Corner[] = [];
  for (const { part, ring, points, numbers } of rings) {
    const first = corners.length;
    const count = points.length;
    points.forEach((at, i) => {
      const back = (i + count - 1) % count;
      const before = points[back]!;
      const after = points[(i + 1) % count]!;
      corners.push({ part, ring, vertex: numbers[i]!, before, at, after, previous: first + back });
    });
  }
  return corners;
};

/** Twice the area of the triangle a, b, c: positive when c lies left of the way from a to b. */
const turn = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** -1, 0 or 1: right of, on (within the tolerance) or left of the line through an edge. */
const sideOf = (a: Point, b: Point, c: Point, tolerance: number): number => {
  const double = turn(a, b, c);
  return Math.abs(double) <= tolerance * distance(a, b) ? 0 : Math.sign(double);
};

/** How far along the way from a to b the foot of c lies, in the unit of the points. */
const along = (a: Point, b: Point, c: Point): number =>
  ((b[0] - a[0]) * (c[0] - a[0]) + (b[1] - a[1]) * (c[1] - a[1])) / distance(a, b);

const placeOf = ({ part, ring, vertex }: Corner): VertexPlace => ({ part, ring, vertex });

/** With no more edges than this, comparing each with each is quicker than finding out which are near. */
const FEW = 16;

/** Crossings, overlaps and spikes among the edges of rings without repeated vertices. */
export const edgeFaults = (rings: readonly CleanRing[], tolerance: number): RingFault[] => {
  const corners = cornersOf(rings);
  const faults: RingFault[] = [];
  const compare = (number: number, otherNumber: number): void => {
    const corner = corners[number]!;
    const other = corners[otherNumber]!;
    const isNeighbour = otherNumber === corner.previous || other.previous === number;
    if (otherNumber === number || isNeighbour) return;
    const found = otherNumber > number ? meetingOf(corner, other, tolerance) : undefined;
    const meeting = found ?? piercingOf(other, corner, tolerance);
    if (meeting !== undefined) faults.push({ ...meeting, ...placeOf(corner), other: placeOf(other) });
  };
  const near = corners.length > FEW ? nearEdges(corners, tolerance) : undefined;
  corners.forEach((corner, number) => {
    if (isSpike(corner, tolerance)) faults.push({ kind: "spike", place: corner.at, ...placeOf(corner) });
    if (near !== undefined) near(corner, (other) => compare(number, other));
    else for (let other = 0; other < corners.length; other++) compare(number, other);
  });
  return [...faults, ...crossingsAtVertices(corners, tolerance)];
};

/** A way to find the edges near the one that begins at a corner. */
const nearEdges = (
  corners: readonly Corner[],
  tolerance: number,
): ((corner: Corner, visit: (other: number) => void) => void) => {
  const edges: Edges = noEdges();
  for (const { at, after } of corners) addEdge(edges, at[0], at[1], after[0], after[1]);
  const index = new EdgeIndex(edges);
  return ({ at, after }, visit) => index.visitNear(at[0], at[1], after[0], after[1], tolerance, visit);
};

type Meeting = Pick<RingFault, "kind" | "place">;

/** Whether the ring turns straight back on itself at the corner. */
const isSpike = ({ before, at, after }: Corner, tolerance: number): boolean => {
  const [near, far] = distance(before, at) < distance(at, after) ? [before, after] : [after, before];
  return sideOf(at, far, near, tolerance) === 0 && along(at, far, near) > 0;
};

/** Where the edges that begin at two corners cross or lie on one another; touching is neither. */
const meetingOf = (
  { at: a, after: b }: Corner,
  { at: c, after: d }: Corner,
  tolerance: number,
): Meeting | undefined => {
  const sideC = sideOf(a, b, c, tolerance);
  const sideD = sideOf(a, b, d, tolerance);
  if (sideC !== 0 && sideC === sideD) return undefined;
  const sideA = sideOf(c, d, a, tolerance);
  const sideB = sideOf(c, d, b, tolerance);
  if (sideA !== 0 && sideA === sideB) return undefined;
  if (sideC === 0 && sideD === 0) {
    const from = Math.max(0, Math.min(along(a, b, c), along(a, b, d)));
    const to = Math.min(distance(a, b), Math.max(along(a, b, c), along(a, b, d)));
    if (to - from <= 2 * tolerance) return undefined;
    const share = (from + to) / 2 / distance(a, b);
    return { kind: "overlap", place: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])] };
  }
  if (sideA === 0 || sideB === 0 || sideC === 0 || sideD === 0) return undefined;
  const share = turn(c, d, a) / (turn(c, d, a) - turn(c, d, b));
  return { kind: "crossing", place: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])] };
};

/** Where a ring goes through the inside of another edge at one of its vertices. */
const piercingOf = (vertex: Corner, { at: a, after: b }: Corner, tolerance: number): Meeting | undefined => {
  if (sideOf(a, b, vertex.at, tolerance) !== 0) return undefined;
  const foot = along(a, b, vertex.at);
  if (foot <= 2 * tolerance || foot >= distance(a, b) - 2 * tolerance) return undefined;
  const through = sideOf(a, b, vertex.before, tolerance) * sideOf(a, b, vertex.after, tolerance) < 0;
  return through ? { kind: "crossing", place: vertex.at } : undefined;
};

/** Whether direction c lies strictly between a and b, going counter-clockwise from a. */
const isBetween = (at: Point, a: Point, b: Point, c: Point): boolean => {
  const afterA = turn(at, a, c) > 0;
  const beforeB = turn(at, c, b) > 0;
  return turn(at, a, b) > 0 ? afterA && beforeB : afterA || beforeB;
};

/** Rings that go through one another, or themselves, at a vertex both have. */
const crossingsAtVertices = (corners: readonly Corner[], tolerance: number): RingFault[] => {
  const table = new VertexTable();
  const visits: Corner[][] = [];
  const unit = 4 * tolerance || 1;
  for (const corner of corners) {
    const id = table.idOf(Math.round(corner.at[0] / unit), Math.round(corner.at[1] / unit));
    if (id === visits.length) visits.push([corner]);
    else visits[id]!.push(corner);
  }
  return visits.flatMap((here) =>
    here.flatMap((one, index) =>
      here.slice(index + 1).flatMap((two): RingFault[] => {
        const ends = [two.before, two.after];
        const shared = ends.some((end) =>
          [one.before, one.after].some(
            (mine) => sideOf(one.at, mine, end, tolerance) === 0 && along(one.at, mine, end) > 0,
          ),
        );
        const [comes, goes] = ends.map((end) => isBetween(one.at, one.after, one.before, end));
        return !shared && comes !== goes
          ? [{ kind: "crossing", place: one.at, ...placeOf(one), other: placeOf(two) }]
          : [];
      }),
    ),
  );
};
