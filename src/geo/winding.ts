import type { Point, Ring } from "./types.ts";

/** A stretch of edge between two numbered vertices, on which nothing else lies. */
export interface Stretch {
  /** Numbers of its ends; `from` is the lower. */
  readonly from: number;
  readonly to: number;
  /** How many edges run from `from` to `to`, less those that run back. */
  readonly turns: number;
  /** How many edges lie on it, either way. */
  readonly edges: number;
}

export interface Arrangement {
  readonly points: readonly Point[];
  readonly stretches: readonly Stretch[];
}

/** Numbers points; those within `reach` of each other are one. */
class Places {
  readonly points: Point[] = [];
  readonly #reach: number;
  readonly #byCell = new Map<string, number[]>();

  constructor(reach: number) {
    this.#reach = reach;
  }

  idOf(point: Point): number {
    const column = Math.floor(point[0] / this.#reach);
    const row = Math.floor(point[1] / this.#reach);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const id of this.#byCell.get(`${column + dx},${row + dy}`) ?? []) {
          const [x, y] = this.points[id]!;
          if (Math.abs(x - point[0]) <= this.#reach && Math.abs(y - point[1]) <= this.#reach) return id;
        }
      }
    }
    const id = this.points.length;
    this.points.push(point);
    const key = `${column},${row}`;
    const cell = this.#byCell.get(key);
    if (cell) cell.push(id);
    else this.#byCell.set(key, [id]);
    return id;
  }
}

interface Edge {
  readonly a: Point;
  readonly b: Point;
  /** Where other edges meet it: shares of its length with the vertex there. */
  readonly cuts: { readonly share: number; readonly id: number }[];
}

/** Every edge of some rings cut where it meets another; vertices within `reach` become one. */
export const arrange = (rings: readonly Ring[], reach: number): Arrangement => {
  const places = new Places(reach);
  const edges: Edge[] = [];
  for (const ring of rings) {
    ring.forEach((point, index) => {
      const next = ring[(index + 1) % ring.length]!;
      const [from, to] = [places.idOf(point), places.idOf(next)];
      if (from === to) return;
      const cuts = [
        { share: 0, id: from },
        { share: 1, id: to },
      ];
      edges.push({ a: places.points[from]!, b: places.points[to]!, cuts });
    });
  }
  cutWhereTheyMeet(edges, places, reach);
  const turns = new Map<string, { from: number; to: number; turns: number; edges: number }>();
  for (const { cuts } of edges) {
    cuts.sort((one, other) => one.share - other.share);
    for (let i = 1; i < cuts.length; i++) {
      const [from, to] = [cuts[i - 1]!.id, cuts[i]!.id];
      if (from === to) continue;
      const key = from < to ? `${from},${to}` : `${to},${from}`;
      const stretch = turns.get(key) ?? {
        from: Math.min(from, to),
        to: Math.max(from, to),
        turns: 0,
        edges: 0,
      };
      stretch.turns += from < to ? 1 : -1;
      stretch.edges += 1;
      turns.set(key, stretch);
    }
  }
  return { points: places.points, stretches: [...turns.values()] };
};

function cutWhereTheyMeet(edges: readonly Edge[], places: Places, reach: number): void {
  const order = edges.map((_, index) => index);
  const lowX = edges.map(({ a, b }) => Math.min(a[0], b[0]) - reach);
  const highX = edges.map(({ a, b }) => Math.max(a[0], b[0]) + reach);
  const lowY = edges.map(({ a, b }) => Math.min(a[1], b[1]) - reach);
  const highY = edges.map(({ a, b }) => Math.max(a[1], b[1]) + reach);
  order.sort((one, other) => lowX[one]! - lowX[other]!);
  let open: number[] = [];
  for (const index of order) {
    open = open.filter((other) => highX[other]! >= lowX[index]!);
    for (const other of open) {
      if (lowY[other]! <= highY[index]! && lowY[index]! <= highY[other]!) {
        cutPair(edges[index]!, edges[other]!, places, reach);
      }
    }
    open.push(index);
  }
}

function cutPair(one: Edge, other: Edge, places: Places, reach: number): void {
  let touching = false;
  for (const [edge, guest] of [
    [one, other],
    [other, one],
  ] as const) {
    for (const end of [0, 1]) {
      const point = end === 0 ? guest.a : guest.b;
      const share = shareNear(edge, point, reach);
      if (share === undefined) continue;
      touching = true;
      if (share > 0 && share < 1) edge.cuts.push({ share, id: guest.cuts[end]!.id });
    }
  }
  if (touching) return;
  const [ux, uy] = [one.b[0] - one.a[0], one.b[1] - one.a[1]];
  const [vx, vy] = [other.b[0] - other.a[0], other.b[1] - other.a[1]];
  const cross = ux * vy - uy * vx;
  if (cross === 0) return;
  const [wx, wy] = [other.a[0] - one.a[0], other.a[1] - one.a[1]];
  const share = (wx * vy - wy * vx) / cross;
  const otherShare = (wx * uy - wy * ux) / cross;
  if (!(share > 0 && share < 1 && otherShare > 0 && otherShare < 1)) return;
  const id = places.idOf([one.a[0] + share * ux, one.a[1] + share * uy]);
  one.cuts.push({ share, id });
  other.cuts.push({ share: otherShare, id });
}

/** How far along an edge a point lies that is within reach of it; undefined when it is not. */
function shareNear({ a, b }: Edge, point: Point, reach: number): number | undefined {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [wx, wy] = [point[0] - a[0], point[1] - a[1]];
  const length = Math.hypot(ux, uy);
  if (Math.abs(ux * wy - uy * wx) > reach * length) return undefined;
  const along = (ux * wx + uy * wy) / (length * length);
  const slack = reach / length;
  if (along < -slack || along > 1 + slack) return undefined;
  return along <= slack ? 0 : along >= 1 - slack ? 1 : along;
}
