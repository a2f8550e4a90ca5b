import type { Frame } from "./frame.ts";
import { PointIndex } from "./point-index.ts";
import type { Loop } from "./retrace.ts";
import { snapLoops } from "./snap-tiles.ts";
import type { MultiPolygon } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/** Decimals of a degree written: 9, 0.11 mm. With 7 narrow tiles become invalid (measured). */
export const WRITTEN_DECIMALS = 9;

/** An edge straight in the plane bows by L^2 tan(latitude) / 8R when drawn straight in degrees: 0.2 mm at 100 m. */
const LONGEST_EDGE_M = 100;
/** Vertices this near an edge could come to lie on its other side by the bow. */
const NEAR_M = 1e-3;

/**
 * Longitude and latitude to write, for tiles in the plane of a frame: rounded to 9 decimals of a degree so that tiles that
 * shared edges still do, and still tile. Each distinct plane vertex is converted once; edges over 100 m get vertices first,
 * the same on both sides. Every number is the one its decimal text reads back as.
 * Result in the order given, oriented; a tile narrower than 0.1 mm may come out with no polygon, a pinched one with two.
 */
export const writtenPositions = (tiles: readonly MultiPolygon[], frame: Frame): MultiPolygon[] => {
  const vertices = new VertexTable();
  const loops = tiles.map((tile) =>
    tile.flatMap((polygon) => polygon.map((ring) => ring.map(([x, y]) => vertices.idOf(x, y)))),
  );
  const dense = withStations(loops, vertices, longEdgeStations);
  const guarded = withStations(dense, vertices, footStations(vertices));
  const lons: number[] = [];
  const lats: number[] = [];
  vertices.xs.forEach((x, vertex) => {
    const [lon, lat] = frame.toLonLat([x, vertices.ys[vertex]!]);
    lons.push(lon);
    lats.push(lat);
  });
  return snapLoops(guarded, lons, lats, 10 ** WRITTEN_DECIMALS);
};

/** Where an edge is to get vertices: metres from its first end, rising; most edges get none. */
type Stations = (ax: number, ay: number, bx: number, by: number) => readonly number[];

const NONE: readonly number[] = [];

/** Puts vertices into edges, worked out from the west end so that both sides of an edge get the same. */
const withStations = (
  tiles: readonly (readonly Loop[])[],
  vertices: VertexTable,
  stations: Stations,
): Loop[][] => {
  const between = (a: number, b: number, path: number[]): void => {
    const { xs, ys } = vertices;
    const backward = xs[a]! > xs[b]! || (xs[a]! === xs[b]! && ys[a]! > ys[b]!);
    const [from, to] = backward ? [b, a] : [a, b];
    const fromX = xs[from]!;
    const fromY = ys[from]!;
    const runX = xs[to]! - fromX;
    const runY = ys[to]! - fromY;
    const found = stations(fromX, fromY, fromX + runX, fromY + runY);
    if (found.length === 0) return;
    const length = Math.hypot(runX, runY);
    const made = found.map((at) => vertices.idOf(fromX + (runX * at) / length, fromY + (runY * at) / length));
    path.push(...(backward ? made.reverse() : made));
  };
  return tiles.map((loops) =>
    loops.map((loop) => {
      const path: number[] = [];
      let from = loop[loop.length - 1]!;
      for (const to of loop) {
        between(from, to, path);
        path.push(to);
        from = to;
      }
      return path.length > loop.length ? path : loop;
    }),
  );
};

const longEdgeStations: Stations = (ax, ay, bx, by) => {
  const length = Math.hypot(bx - ax, by - ay);
  if (length <= LONGEST_EDGE_M) return NONE;
  const pieces = Math.ceil(length / LONGEST_EDGE_M);
  return Array.from({ length: pieces - 1 }, (_, i) => (length * (i + 1)) / pieces);
};

/** The feet, on an edge, of vertices that lie very near it: there the drawn edge keeps its side of them. */
const footStations = ({ xs, ys }: VertexTable): Stations => {
  const index = new PointIndex(xs, ys);
  return (ax, ay, bx, by) => {
    const count = index.findNear(ax, ay, bx, by, NEAR_M);
    if (count === 0) return NONE;
    const runX = bx - ax;
    const runY = by - ay;
    const length = Math.hypot(runX, runY);
    const stations: number[] = [];
    for (let i = 0; i < count; i++) {
      const offX = xs[index.found[i]!]! - ax;
      const offY = ys[index.found[i]!]! - ay;
      const at = (runX * offX + runY * offY) / length;
      const aside = Math.abs(runX * offY - runY * offX) / length;
      if (aside <= NEAR_M && at > NEAR_M && at < length - NEAR_M) stations.push(at);
    }
    return stations.sort((a, b) => a - b);
  };
};
