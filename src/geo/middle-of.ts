import type { Grid, Point, Ring } from "./types.ts";

/** Mean of a ring's vertices: inside a strip segment or a spreader's cell, not in any shape. */
export function middleOf(ring: Ring): Point {
  const mean = (axis: 0 | 1): number => ring.reduce((sum, point) => sum + point[axis], 0) / ring.length;
  return [mean(0), mean(1)];
}

/** Centre of a cell by its place in the arrays over the grid, metres. */
export const cellCentre = ({ nx, ix0, iy0, cellM }: Grid, cell: number): Point => [
  (ix0 + (cell % nx) + 0.5) * cellM,
  (iy0 + Math.floor(cell / nx) + 0.5) * cellM,
];
