import { EdgeTable } from "./edge-table.ts";
import type { Polygon } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

/**
 * Calls back with every two polygons that share an edge, vertex for vertex and the other way round, once an edge, with
 * the length of the edge.
 * Polygons that touch at points only are no neighbours.
 */
export const edgeNeighbours = (
  polygons: readonly Polygon[],
  visit: (one: number, other: number, length: number) => void,
): void => {
  const vertices = new VertexTable();
  const edges = new EdgeTable();
  const owners: number[] = [];
  polygons.forEach((polygon, owner) => {
    for (const ring of polygon) {
      const last = ring[ring.length - 1]!;
      let from = vertices.idOf(last[0], last[1]);
      let [fromX, fromY] = last;
      for (const [x, y] of ring) {
        const to = vertices.idOf(x, y);
        if (edges.add(from, to)) owners.push(owner);
        const back = edges.find(to, from);
        if (back >= 0) visit(owners[back]!, owner, Math.hypot(x - fromX, y - fromY));
        from = to;
        [fromX, fromY] = [x, y];
      }
    }
  });
};
