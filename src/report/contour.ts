import type { Grid, Point, Ring } from "../geo/index.ts";
import { classOf, NEXT_TO_NOTHING } from "./classes.ts";

/**
 * The cells' values as a surface over their centres that runs on beyond the field: places without a value take
 * that of the nearest cell that has one, and a rim of minus infinity closes every contour outside the field.
 */
export interface Surface {
  readonly nx: number;
  readonly ny: number;
  readonly value: Float64Array;
  /** East and north of a node, metres; fractions lie between nodes. */
  at(column: number, row: number): Point;
}

/** `value` is NaN outside the field. Throws when no cell has a value. */
export function surfaceOf(grid: Grid, value: Float64Array): Surface {
  const nx = grid.nx + 4;
  const ny = grid.ny + 4;
  const wide = new Float64Array(nx * ny).fill(Number.NaN);
  for (let row = 0; row < grid.ny; row++) {
    for (let column = 0; column < grid.nx; column++) {
      wide[(row + 2) * nx + column + 2] = value[row * grid.nx + column]!;
    }
  }
  spread(wide, nx, ny);
  for (let i = 0; i < wide.length; i++) {
    const [column, row] = [i % nx, Math.floor(i / nx)];
    if (column === 0 || row === 0 || column === nx - 1 || row === ny - 1) wide[i] = Number.NEGATIVE_INFINITY;
  }
  return {
    nx,
    ny,
    value: wide,
    at: (column, row) => [(grid.ix0 + column - 1.5) * grid.cellM, (grid.iy0 + row - 1.5) * grid.cellM],
  };
}

/** Fill NaN from the neighbours, ring by ring. */
function spread(value: Float64Array, nx: number, ny: number): void {
  let front: number[] = [];
  value.forEach((one, i) => {
    if (!Number.isNaN(one)) front.push(i);
  });
  if (front.length === 0) throw new Error("a map without a single value cannot be drawn");
  while (front.length > 0) {
    const next: number[] = [];
    for (const i of front) {
      const [column, row] = [i % nx, Math.floor(i / nx)];
      const around = [
        [column - 1, row],
        [column + 1, row],
        [column, row - 1],
        [column, row + 1],
      ] as const;
      for (const [c, r] of around) {
        const at = r * nx + c;
        if (c < 0 || r < 0 || c >= nx || r >= ny || !Number.isNaN(value[at]!)) continue;
        value[at] = value[i]!;
        next.push(at);
      }
    }
    front = next;
  }
}

/**
 * Closed rings around all places at or above each limit, metres; they run beyond the field, where whoever
 * draws them clips. Marching squares with straight interpolation between cell centres; where two neighbours
 * are more than one class apart (a cliff of the guide) all limits cross half-way, so that no class shows
 * that no cell has.
 */
export function regionsAbove(surface: Surface, limits: readonly number[]): Ring[][] {
  const crossing = (limit: number) => (a: number, b: number) => {
    if (!Number.isFinite(a) || !Number.isFinite(b) || limit === NEXT_TO_NOTHING) return 0.5;
    if (Math.abs(classOf(limits, a) - classOf(limits, b)) > 1) return 0.5;
    return (limit - a) / (b - a);
  };
  return limits.map((limit) => contourRings(surface, limit, crossing(limit)));
}

/** Closed rings of one level, straight interpolation. */
export function contour(surface: Surface, level: number): Ring[] {
  return contourRings(surface, level, (a, b) =>
    Number.isFinite(a) && Number.isFinite(b) ? (level - a) / (b - a) : 0.5,
  );
}

/** Ends of an edge crossing in a square, by which corners are at or above the level: bits are the corners
 * south-west 1, south-east 2, north-east 4, north-west 8; edges south 0, east 1, north 2, west 3. High lies left. */
const ways: readonly (readonly (readonly [number, number])[])[] = [
  [],
  [[0, 3]],
  [[1, 0]],
  [[1, 3]],
  [[2, 1]],
  [],
  [[2, 0]],
  [[2, 3]],
  [[3, 2]],
  [[0, 2]],
  [],
  [[1, 2]],
  [[3, 1]],
  [[0, 1]],
  [[3, 0]],
  [],
];

function contourRings(
  { nx, ny, value, at }: Surface,
  level: number,
  crossing: (a: number, b: number) => number,
): Ring[] {
  const next = new Map<number, number>();
  const isHigh = (i: number) => (value[i]! >= level ? 1 : 0);
  for (let row = 0; row < ny - 1; row++) {
    for (let column = 0; column < nx - 1; column++) {
      const i = row * nx + column;
      const corners = [i, i + 1, i + nx + 1, i + nx] as const;
      const bits = corners.reduce((all, corner, bit) => all + (isHigh(corner) << bit), 0);
      // Edges by number: even ones run east from a node, odd ones north.
      const edges = [2 * i, 2 * (i + 1) + 1, 2 * (i + nx), 2 * i + 1] as const;
      for (const [from, to] of bits === 5 || bits === 10
        ? saddle(bits, corners, value, level)
        : ways[bits]!) {
        next.set(edges[from as 0], edges[to as 0]);
      }
    }
  }
  const pointOn = (edge: number): Point => {
    const i = edge >> 1;
    const j = edge % 2 === 0 ? i + 1 : i + nx;
    const t = crossing(value[i]!, value[j]!);
    const [column, row] = [i % nx, Math.floor(i / nx)];
    return edge % 2 === 0 ? at(column + t, row) : at(column, row + t);
  };
  const rings: Ring[] = [];
  for (const start of [...next.keys()]) {
    if (!next.has(start)) continue;
    const ring: Point[] = [];
    for (let edge = start; next.has(edge); ) {
      ring.push(pointOn(edge));
      const to = next.get(edge)!;
      next.delete(edge);
      edge = to;
    }
    rings.push(ring);
  }
  return rings;
}

/** Two high corners across from each other: joined when the middle of the square is high. */
function saddle(
  bits: number,
  corners: readonly number[],
  value: Float64Array,
  level: number,
): readonly (readonly [number, number])[] {
  const middle = corners.reduce((all, corner) => all + value[corner]!, 0) / 4;
  const isJoined = middle >= level;
  if (bits === 5) {
    return isJoined
      ? [
          [0, 1],
          [2, 3],
        ]
      : [
          [0, 3],
          [2, 1],
        ];
  }
  return isJoined
    ? [
        [3, 0],
        [1, 2],
      ]
    : [
        [1, 0],
        [3, 2],
      ];
}
