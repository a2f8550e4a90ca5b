import { nestLoops } from "./nest-loops.ts";
import { PointIndex } from "./point-index.ts";
import { type Loop, retrace } from "./retrace.ts";
import type { MultiPolygon, Point, Polygon } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/** Coordinates x, y, x, y ... of one ring, the first vertex not repeated. */
export type FlatRing = readonly number[];

/** Half a lattice step, and a little for the rounding in where a cut was computed. */
const HALF_PIXEL = 0.5 + 1e-6;
/**
 * Squares sit this far off centre on their lattice points, in steps, so that round numbers in a field (half steps, edges
 * at 45 degrees) do not fall on the border between two squares, where an edge would seem to pass both.
 */
const SKEW_X = 0.012_345_678;
const SKEW_Y = 0.007_654_321;
const MOST_ROUNDS = 40;

const roundX = (x: number): number => Math.floor(x + (0.5 - SKEW_X));
const roundY = (y: number): number => Math.floor(y + (0.5 - SKEW_Y));

/**
 * Rounds tiles to a lattice of `perUnit` steps a unit so that they still tile exactly. Each vertex goes to its nearest
 * lattice point; each edge is led through every such point whose square it passes, whichever tile it belongs to and
 * whichever way it runs; and so again until nothing changes. So T-junctions become vertices of both sides, edges
 * never cross, and what one tile loses its neighbour gains. (Snap rounding: J. D. Hobby 1999, Computational Geometry
 * 13:199-214; L. Guibas and D. Marimont 1998, Int. J. Computational Geometry and Applications 8:157-176; from memory.)
 *
 * A tile is a bag of rings with land on their left. Result in the same order: none, one or several polygons a tile, oriented,
 * each simple; slivers narrower than a step may vanish. Coordinates are whole numbers divided by `perUnit`,
 * and equal vertices are one and the same Point.
 */
export const snapFlatTiles = (tiles: readonly (readonly FlatRing[])[], perUnit: number): MultiPolygon[] => {
  let vertices = new VertexTable();
  let inserted = false;
  const steps = tiles.map((rings) => rings.map((ring) => ring.map((value) => value * perUnit)));
  for (const rings of steps) {
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i += 2) vertices.idOf(roundX(ring[i]!), roundY(ring[i + 1]!));
    }
  }
  let router = edgeRouter(vertices);
  let loops: Loop[][] = steps.map((rings) => rings.map((ring) => router.routeFlat(ring)));
  for (let round = 0; ; round++) {
    loops = simpleLoops(loops, vertices);
    if (round > 0 && !inserted) break;
    if (round === MOST_ROUNDS) throw new Error("snapTiles: vertices and edges do not settle");
    [loops, vertices] = renumbered(loops, vertices);
    router = edgeRouter(vertices);
    loops = loops.map((tile) => tile.map((loop) => router.routeLoop(loop)));
    inserted = router.inserted();
  }
  return polygonsOf(loops, vertices, perUnit);
};

/** The same for polygons already oriented, one multipolygon a tile. */
export const snapTiles = (tiles: readonly MultiPolygon[], perUnit: number): MultiPolygon[] =>
  snapFlatTiles(
    tiles.map((tile) => tile.flatMap((polygon) => polygon.map((ring) => ring.flat()))),
    perUnit,
  );

interface EdgeRouter {
  /** A ring in lattice steps, not yet rounded, as the vertices it is led through. */
  routeFlat(ring: FlatRing): Loop;
  routeLoop(loop: Loop): Loop;
  /** Whether any edge so far got a vertex it did not have. */
  inserted(): boolean;
}

const edgeRouter = (vertices: VertexTable): EdgeRouter => {
  const { xs, ys } = vertices;
  const index = new PointIndex(xs, ys);
  const found: number[] = [];
  const along: number[] = [];
  let inserted = false;

  /** Appends the vertices an edge passes between its ends; always worked out from the west end. */
  const route = (
    ax: number,
    ay: number,
    a: number,
    bx: number,
    by: number,
    b: number,
    path: number[],
  ): void => {
    if (a === b) return;
    const backward = ax > bx || (ax === bx && ay > by);
    const [fromX, fromY, from, toX, toY, to] = backward ? [bx, by, b, ax, ay, a] : [ax, ay, a, bx, by, b];
    const runX = toX - fromX;
    const runY = toY - fromY;
    const reach = HALF_PIXEL * (Math.abs(runX) + Math.abs(runY));
    const highX = toX + HALF_PIXEL;
    const lowX = fromX - HALF_PIXEL;
    const highY = Math.max(fromY, toY) + HALF_PIXEL;
    const lowY = Math.min(fromY, toY) - HALF_PIXEL;
    const start = runX * (xs[from]! + SKEW_X - fromX) + runY * (ys[from]! + SKEW_Y - fromY);
    const end = runX * (xs[to]! + SKEW_X - fromX) + runY * (ys[to]! + SKEW_Y - fromY);
    found.length = 0;
    along.length = 0;
    index.visitNear(fromX, fromY, toX, toY, HALF_PIXEL, (vertex) => {
      const x = xs[vertex]! + SKEW_X;
      const y = ys[vertex]! + SKEW_Y;
      if (vertex === from || vertex === to || x < lowX || x > highX || y < lowY || y > highY) return;
      const offX = x - fromX;
      const offY = y - fromY;
      if (Math.abs(runX * offY - runY * offX) > reach) return;
      const at = runX * offX + runY * offY;
      if (at <= start || at >= end) return;
      let slot = found.length;
      while (slot > 0 && (along[slot - 1]! > at || (along[slot - 1] === at && found[slot - 1]! > vertex)))
        slot--;
      found.splice(slot, 0, vertex);
      along.splice(slot, 0, at);
    });
    if (found.length === 0) return;
    inserted = true;
    if (backward) found.reverse();
    for (const vertex of found) path.push(vertex);
  };

  const closed = (path: number[]): Loop => {
    while (path.length > 1 && path[path.length - 1] === path[0]) path.pop();
    return path;
  };

  return {
    routeFlat: (ring) => {
      const path: number[] = [];
      let fromX = ring[ring.length - 2]!;
      let fromY = ring[ring.length - 1]!;
      let from = vertices.find(roundX(fromX), roundY(fromY));
      for (let i = 0; i < ring.length; i += 2) {
        const toX = ring[i]!;
        const toY = ring[i + 1]!;
        const to = vertices.find(roundX(toX), roundY(toY));
        route(fromX, fromY, from, toX, toY, to, path);
        if (path[path.length - 1] !== to) path.push(to);
        fromX = toX;
        fromY = toY;
        from = to;
      }
      return closed(path);
    },
    routeLoop: (loop) => {
      const path: number[] = [];
      let from = loop[loop.length - 1]!;
      for (const to of loop) {
        route(xs[from]!, ys[from]!, from, xs[to]!, ys[to]!, to, path);
        path.push(to);
        from = to;
      }
      return path;
    },
    inserted: () => inserted,
  };
};

/** Each tile's loops made simple; most are already. */
const simpleLoops = (tiles: readonly (readonly Loop[])[], { xs, ys, size }: VertexTable): Loop[][] => {
  const seen = new Int32Array(size).fill(-1);
  return tiles.map((tile, number) => {
    let simple = true;
    for (const loop of tile) {
      if (loop.length < 3) simple = false;
      for (const vertex of loop) {
        if (seen[vertex] === number) simple = false;
        seen[vertex] = number;
      }
    }
    return simple ? [...tile] : retrace(tile, xs, ys);
  });
};

/** The same loops over a table of only the vertices still in use. */
const renumbered = (tiles: readonly (readonly Loop[])[], old: VertexTable): [Loop[][], VertexTable] => {
  const vertices = new VertexTable();
  const numbers = new Int32Array(old.size).fill(-1);
  const loops = tiles.map((tile) =>
    tile.map((loop) =>
      loop.map((vertex) => {
        if (numbers[vertex] === -1) numbers[vertex] = vertices.idOf(old.xs[vertex]!, old.ys[vertex]!);
        return numbers[vertex]!;
      }),
    ),
  );
  return [loops, vertices];
};

const polygonsOf = (
  tiles: readonly (readonly Loop[])[],
  { xs, ys }: VertexTable,
  perUnit: number,
): MultiPolygon[] => {
  const points: Point[] = xs.map((x, vertex) => [x / perUnit, ys[vertex]! / perUnit]);
  return tiles.map((tile) =>
    nestLoops(tile, xs, ys).map(
      (rings): Polygon => rings.map((loop) => loop.map((vertex) => points[vertex]!)),
    ),
  );
};
