import { squaredDistanceToEdge } from "./distance-to-boundary.ts";
import type { Point, Ring } from "./types.ts";

/** A ring as a line with distances along it, the way it runs. */
export interface MeasuredRing {
  /** Vertices in order, each with its distance in metres from the ring's origin; rising. */
  readonly vertices: readonly MeasuredVertex[];
  /** Distance at which the ring comes back to its first vertex. */
  readonly endM: number;
  readonly lengthM: number;
}

interface MeasuredVertex {
  readonly atM: number;
  readonly place: Point;
}

/** Measured from its first vertex; or, given an origin, from the place nearest to that, half the ring lying before it. */
export const measuredRing = (ring: Ring, origin?: Point): MeasuredRing => {
  if (origin === undefined) return measuredFromFirst(ring);
  const { vertices, lengthM } = measuredFromFirst(startingNearest(ring, origin));
  const before = vertices.filter(({ atM }) => atM > lengthM / 2);
  const after = vertices.filter(({ atM }) => atM <= lengthM / 2);
  const turned = [...before.map(({ atM, place }) => ({ atM: atM - lengthM, place })), ...after];
  return { vertices: turned, endM: turned[0]!.atM + lengthM, lengthM };
};

const measuredFromFirst = (ring: Ring): MeasuredRing => {
  const vertices: MeasuredVertex[] = [];
  let atM = 0;
  ring.forEach((place, i) => {
    vertices.push({ atM, place });
    const [toX, toY] = ring[(i + 1) % ring.length]!;
    atM += Math.sqrt((toX - place[0]) ** 2 + (toY - place[1]) ** 2);
  });
  return { vertices, endM: atM, lengthM: atM };
};

/** The same ring begun at its place nearest to a point, which becomes a vertex. */
const startingNearest = (ring: Ring, [x, y]: Point): Ring => {
  let best = Number.POSITIVE_INFINITY;
  let edge = 0;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const squared = squaredDistanceToEdge(x, y, ax, ay, bx, by);
    if (squared < best) {
      best = squared;
      edge = i;
    }
  });
  const [ax, ay] = ring[edge]!;
  const next = (edge + 1) % ring.length;
  const [bx, by] = ring[next]!;
  const share = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2);
  const rest = [...ring.slice(edge + 1), ...ring.slice(0, edge + 1)];
  // Not a new vertex beside an old one.
  if (!(share > 1e-6)) return [...ring.slice(edge), ...ring.slice(0, edge)];
  if (!(share < 1 - 1e-6)) return [...ring.slice(next), ...ring.slice(0, next)];
  return [[ax + share * (bx - ax), ay + share * (by - ay)], ...rest];
};

/** The place at a distance along, and the unit vector the ring runs along there. */
export const placeAlong = (
  { vertices, endM }: MeasuredRing,
  atM: number,
): { readonly place: Point; readonly way: Point } => {
  let low = 0;
  let high = vertices.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (vertices[middle]!.atM <= atM) low = middle;
    else high = middle;
  }
  const from = vertices[low]!;
  const to = vertices[low + 1] ?? { atM: endM, place: vertices[0]!.place };
  const length = to.atM - from.atM;
  const [runX, runY] = [to.place[0] - from.place[0], to.place[1] - from.place[1]];
  const share = (atM - from.atM) / length;
  return {
    place: [from.place[0] + share * runX, from.place[1] + share * runY],
    way: [runX / length, runY / length],
  };
};
