import { EdgeRouter, roundX, roundY } from "./edge-router.ts";
import type { FlatRing } from "./flat-ring.ts";
import { nestLoops } from "./nest-loops.ts";
import { type Loop, retrace } from "./retrace.ts";
import type { MultiPolygon, Point, Polygon } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

const MOST_ROUNDS = 40;

/**
 * Rounds tiles to a lattice of `perUnit` steps a unit so that they still tile exactly. Each vertex goes to its nearest
 * lattice point; each edge is led through every such point whose square it passes, whichever tile it belongs to and
 * whichever way it runs; and so again until nothing changes. So T-junctions become vertices of both sides, edges
 * never cross, and what one tile loses its neighbour gains. (Snap rounding: J. D. Hobby 1999, Computational Geometry
 * 13:199-214; L. Guibas and D. Marimont 1998, Int. J. Computational Geometry and Applications 8:157-176; from memory.)
 *
 * A tile is a bag of rings with land on their left. Result in the same order: none, one or several polygons a tile,
 * oriented, each simple; slivers narrower than a step may vanish. Coordinates are whole numbers divided by
 * `perUnit`, and equal vertices are one and the same Point.
 */
export const snapFlatTiles = (tiles: readonly (readonly FlatRing[])[], perUnit: number): MultiPolygon[] => {
  const raw = new VertexTable();
  const loops = tiles.map((rings) => raw.loopsOf(rings));
  return snapLoops(loops, raw.xs, raw.ys, perUnit);
};

/** The same for polygons already oriented, one multipolygon a tile. */
export const snapTiles = (tiles: readonly MultiPolygon[], perUnit: number): MultiPolygon[] =>
  snapFlatTiles(
    tiles.map((tile) => tile.flatMap((polygon) => polygon.map((ring) => ring.flat()))),
    perUnit,
  );

/** The same for rings given as numbers of vertices; `xs` and `ys` are the vertices' coordinates in units. */
export const snapLoops = (
  tiles: readonly (readonly Loop[])[],
  xs: readonly number[],
  ys: readonly number[],
  perUnit: number,
): MultiPolygon[] => {
  const stepX = xs.map((x) => x * perUnit);
  const stepY = ys.map((y) => y * perUnit);
  const lattice = new VertexTable();
  const rounded = stepX.map((x, vertex) => lattice.idOf(roundX(x), roundY(stepY[vertex]!)));
  const router = new EdgeRouter(lattice);
  // A loop that came near a point without passing it may pass it now that it has been rounded.
  let unsettled: [tile: number, loops: Loop[]][] = [];
  const settled = tiles.map((rings, number) => {
    router.nearMiss = false;
    const loops = rings.map((ring) => routeRaw(router, ring, stepX, stepY, rounded));
    if (router.nearMiss) unsettled.push([number, loops]);
    return loops;
  });
  for (let round = 0; unsettled.length > 0; round++) {
    if (round === MOST_ROUNDS) throw new Error("snapTiles: vertices and edges do not settle");
    const next: typeof unsettled = [];
    for (const [number, loops] of unsettled) {
      router.nearMiss = false;
      const { routed, inserted } = routeAgain(router, loops, lattice);
      settled[number] = routed;
      if (inserted && router.nearMiss) next.push([number, routed]);
    }
    unsettled = next;
  }
  return polygonsOf(simpleLoops(settled, lattice), lattice, perUnit);
};

/** A ring not yet rounded, as the lattice points it is led through. */
const routeRaw = (
  router: EdgeRouter,
  ring: Loop,
  xs: readonly number[],
  ys: readonly number[],
  rounded: readonly number[],
): Loop => {
  const path: number[] = [];
  let from = ring[ring.length - 1]!;
  for (const to of ring) {
    const end = rounded[to]!;
    router.route(xs[from]!, ys[from]!, rounded[from]!, xs[to]!, ys[to]!, end, path);
    if (path[path.length - 1] !== end) path.push(end);
    from = to;
  }
  while (path.length > 1 && path[path.length - 1] === path[0]) path.pop();
  return path;
};

const routeAgain = (
  router: EdgeRouter,
  loops: readonly Loop[],
  { xs, ys }: VertexTable,
): { routed: Loop[]; inserted: boolean } => {
  let inserted = false;
  const routed = loops.map((loop) => {
    const path: number[] = [];
    let from = loop[loop.length - 1]!;
    for (const to of loop) {
      if (router.route(xs[from]!, ys[from]!, from, xs[to]!, ys[to]!, to, path) > 0) inserted = true;
      path.push(to);
      from = to;
    }
    return path;
  });
  return { routed, inserted };
};

/** Each tile's loops made simple; most are already. */
const simpleLoops = (
  tiles: readonly (readonly Loop[])[],
  { xs, ys, size }: VertexTable,
): (readonly Loop[])[] => {
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
    return simple ? tile : retrace(tile, xs, ys);
  });
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
