import { nestLoops } from "./nest-loops.ts";
import { retrace } from "./retrace.ts";
import type { MultiPolygon, Point, Polygon } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/**
 * Tiles put together along the edges they share, vertex for vertex. The tiles must not overlap and must come from one
 * tiling. Vertices stay, also those no longer needed, so that the result still tiles with its neighbours.
 */
export const unionOfTiles = (tiles: readonly Polygon[]): MultiPolygon => {
  if (tiles.length === 1) return tiles;
  const table = new VertexTable();
  const points: Point[] = [];
  const loops = tiles.flatMap((polygon) =>
    polygon.map((ring) =>
      ring.map((point) => {
        const id = table.idOf(point[0], point[1]);
        points[id] ??= point;
        return id;
      }),
    ),
  );
  return nestLoops(retrace(loops, table.xs, table.ys), table.xs, table.ys).map((rings) =>
    rings.map((loop) => loop.map((id) => points[id]!)),
  );
};
