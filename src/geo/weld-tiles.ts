import type { FlatRing } from "./flat-ring.ts";
import { PointIndex } from "./point-index.ts";
import { VertexTable } from "./vertex-table.ts";

/**
 * Tiles whose shared borders agree only to within a tolerance, as a general clipper leaves them, made to share vertices:
 * vertices nearer to one another than that become one, and an edge gets every vertex that lies that near to it.
 * The tolerance must be far below what is to be kept apart. Result in the same order; rings may touch themselves after.
 */
export const weldTiles = (tiles: readonly (readonly FlatRing[])[], tolerance: number): FlatRing[][] => {
  const raw = new VertexTable();
  const loops = tiles.map((rings) => raw.loopsOf(rings));
  const keepers = mergedVertices(raw, tolerance);
  const welded = new VertexTable();
  const numbers = keepers.map((keeper) => welded.idOf(raw.xs[keeper]!, raw.ys[keeper]!));
  const index = new PointIndex(welded.xs, welded.ys);
  return loops.map((rings) =>
    rings.map((loop) => {
      const path: number[] = [];
      let from = numbers[loop[loop.length - 1]!]!;
      for (const vertex of loop) {
        const to = numbers[vertex]!;
        if (to === from) continue;
        path.push(...between(from, to, welded, index, tolerance), to);
        from = to;
      }
      return path.flatMap((vertex) => [welded.xs[vertex]!, welded.ys[vertex]!]);
    }),
  );
};

/** For each vertex the first one, by number, of those it is to be one with. */
const mergedVertices = ({ xs, ys, size }: VertexTable, tolerance: number): number[] => {
  const index = new PointIndex(xs, ys);
  const keepers = Array.from({ length: size }, (_, vertex) => vertex);
  for (let vertex = 0; vertex < size; vertex++) {
    if (keepers[vertex] !== vertex) continue;
    const count = index.findNear(xs[vertex]!, ys[vertex]!, xs[vertex]!, ys[vertex]!, tolerance);
    for (let i = 0; i < count; i++) {
      const other = index.found[i]!;
      if (other <= vertex || keepers[other] !== other) continue;
      const squared = (xs[other]! - xs[vertex]!) ** 2 + (ys[other]! - ys[vertex]!) ** 2;
      if (squared <= tolerance * tolerance) keepers[other] = vertex;
    }
  }
  return keepers;
};

/** Vertices that lie on an edge, in order along it. */
const between = (
  from: number,
  to: number,
  { xs, ys }: VertexTable,
  index: PointIndex,
  tolerance: number,
): number[] => {
  const runX = xs[to]! - xs[from]!;
  const runY = ys[to]! - ys[from]!;
  const length = Math.sqrt(runX * runX + runY * runY);
  const count = index.findNear(xs[from]!, ys[from]!, xs[to]!, ys[to]!, tolerance);
  const found: { vertex: number; along: number }[] = [];
  for (let i = 0; i < count; i++) {
    const vertex = index.found[i]!;
    if (vertex === from || vertex === to) continue;
    const offX = xs[vertex]! - xs[from]!;
    const offY = ys[vertex]! - ys[from]!;
    const along = (offX * runX + offY * runY) / length;
    const aside = Math.abs(runX * offY - runY * offX) / length;
    if (aside <= tolerance && along > 0 && along < length) found.push({ vertex, along });
  }
  return found.sort((a, b) => a.along - b.along || a.vertex - b.vertex).map(({ vertex }) => vertex);
};
