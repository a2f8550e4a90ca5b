import type { Frame } from "./frame.ts";
import { PointIndex } from "./point-index.ts";
import { snapFlatTiles } from "./snap-tiles.ts";
import type { MultiPolygon, Point } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/** Decimals of a degree written: 9, 0.11 mm. With 7 narrow tiles become invalid (measured). */
export const WRITTEN_DECIMALS = 9;

/** An edge straight in the plane bows by L^2 tan(latitude) / 8R when drawn straight in degrees: 0.2 mm at 100 m. */
const LONGEST_EDGE_M = 100;
/** Vertices this near an edge could come to lie on its other side by the bow. */
const NEAR_M = 1e-3;

/** Points to put into an edge between its ends, in order from the end given first. */
type Between = (ax: number, ay: number, bx: number, by: number) => Point[];

/** Puts points into every edge, worked out from its west end so that both sides of an edge get the same. */
const withPoints = (tiles: readonly (readonly (readonly number[])[])[], between: Between): number[][][] =>
  tiles.map((rings) =>
    rings.map((ring) => {
      const result: number[] = [];
      let fromX = ring[ring.length - 2]!;
      let fromY = ring[ring.length - 1]!;
      for (let i = 0; i < ring.length; i += 2) {
        const toX = ring[i]!;
        const toY = ring[i + 1]!;
        const backward = fromX > toX || (fromX === toX && fromY > toY);
        const points = backward
          ? between(toX, toY, fromX, fromY).toReversed()
          : between(fromX, fromY, toX, toY);
        for (const [x, y] of points) result.push(x, y);
        result.push(toX, toY);
        fromX = toX;
        fromY = toY;
      }
      return result;
    }),
  );

const densified: Between = (ax, ay, bx, by) => {
  const pieces = Math.ceil(Math.hypot(bx - ax, by - ay) / LONGEST_EDGE_M);
  const points: Point[] = [];
  for (let i = 1; i < pieces; i++)
    points.push([ax + ((bx - ax) * i) / pieces, ay + ((by - ay) * i) / pieces]);
  return points;
};

/** The feet, on an edge, of vertices that lie very near it: there the drawn edge keeps its side of them. */
const feet = ({ xs, ys }: VertexTable): Between => {
  const index = new PointIndex(xs, ys);
  return (ax, ay, bx, by) => {
    const runX = bx - ax;
    const runY = by - ay;
    const length = Math.hypot(runX, runY);
    const stations: number[] = [];
    index.visitNear(ax, ay, bx, by, NEAR_M, (vertex) => {
      const offX = xs[vertex]! - ax;
      const offY = ys[vertex]! - ay;
      const station = (runX * offX + runY * offY) / length;
      const off = Math.abs(runX * offY - runY * offX) / length;
      if (off <= NEAR_M && station > NEAR_M && station < length - NEAR_M) stations.push(station);
    });
    return stations
      .sort((a, b) => a - b)
      .map((station): Point => [ax + (runX * station) / length, ay + (runY * station) / length]);
  };
};

const tableOf = (tiles: readonly (readonly (readonly number[])[])[]): VertexTable => {
  const table = new VertexTable();
  for (const ring of tiles.flat()) {
    for (let i = 0; i < ring.length; i += 2) table.idOf(ring[i]!, ring[i + 1]!);
  }
  return table;
};

/**
 * Longitude and latitude to write, for tiles in the plane of a frame: rounded to 9 decimals of a degree so that tiles that
 * shared edges still do, and still tile. Each distinct plane vertex is converted once; edges over 100 m get vertices first,
 * the same on both sides. Every number is the one its decimal text reads back as.
 * Result in the order given, oriented; a tile narrower than 0.1 mm may come out with no polygon, a pinched one with two.
 */
export const writtenPositions = (tiles: readonly MultiPolygon[], frame: Frame): MultiPolygon[] => {
  const flat = tiles.map((tile) => tile.flatMap((polygon) => polygon.map((ring) => ring.flat())));
  const dense = withPoints(flat, densified);
  const guarded = withPoints(dense, feet(tableOf(dense)));
  const vertices = tableOf(guarded);
  const positions = vertices.xs.map((x, vertex) => frame.toLonLat([x, vertices.ys[vertex]!]));
  const degrees = guarded.map((rings) =>
    rings.map((ring) => {
      const result: number[] = [];
      for (let i = 0; i < ring.length; i += 2) {
        const [lon, lat] = positions[vertices.find(ring[i]!, ring[i + 1]!)]!;
        result.push(lon, lat);
      }
      return result;
    }),
  );
  return snapFlatTiles(degrees, 10 ** WRITTEN_DECIMALS);
};
