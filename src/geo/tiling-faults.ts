import { Summer } from "../numeric/index.ts";
import { squaredDistanceToEdge } from "./distance-to-boundary.ts";
import { addEdge, EdgeIndex, type Edges, noEdges } from "./edge-index.ts";
import { EdgeTable } from "./edge-table.ts";
import { multiPolygonArea, ringArea } from "./plane-area.ts";
import type { MultiPolygon, Point } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

interface TilingFault {
  /**
   * `turned`: a ring that runs the wrong way or bounds nothing. `doubled`: an edge with tiles lying over one another
   * on its left. `open`: an inner edge without a neighbour, so a gap or an overlap. `uncovered`: a stretch of the outline
   * that no tile follows. `area`: the tiles' areas do not add up to the outline's.
   */
  readonly kind: "turned" | "doubled" | "open" | "uncovered" | "area";
  readonly place: Point;
  /** Number of the tile at fault, or -1 when it is the outline that goes without one. */
  readonly tile: number;
}

/** Directed edges of rings by the numbers of their ends. */
interface DirectedEdges {
  readonly edges: EdgeTable;
  /** Number of the tile each edge belongs to. */
  readonly tiles: number[];
  /** Edges that came again. */
  readonly doubled: { from: number; to: number; tile: number }[];
}

const directedEdges = (tiles: readonly MultiPolygon[], vertices: VertexTable): DirectedEdges => {
  const edges = new EdgeTable();
  const result: DirectedEdges = { edges, tiles: [], doubled: [] };
  tiles.forEach((tile, number) => {
    for (const polygon of tile) {
      for (const ring of polygon) {
        const last = ring[ring.length - 1]!;
        let from = vertices.idOf(last[0], last[1]);
        for (const [x, y] of ring) {
          const to = vertices.idOf(x, y);
          if (edges.add(from, to)) result.tiles.push(number);
          else result.doubled.push({ from, to, tile: number });
          from = to;
        }
      }
    }
  });
  return result;
};

/** Numbers of the edges for which the test holds. */
const edgesWhere = (edges: EdgeTable, test: (from: number, to: number) => boolean): number[] => {
  const found: number[] = [];
  for (let edge = 0; edge < edges.size; edge++) {
    if (test(edges.froms[edge]!, edges.tos[edge]!)) found.push(edge);
  }
  return found;
};

type Stretch = readonly [fromX: number, fromY: number, toX: number, toY: number];

/** Whether a stretch of edge runs within `reach` of edges of a set, the same way (or, with `way` -1, the other way). */
const followsEdges = (
  edges: Edges,
  index: EdgeIndex,
  [fromX, fromY, toX, toY]: Stretch,
  shares: readonly number[],
  reach: number,
  way: 1 | -1,
): boolean =>
  shares.every((share) => {
    const x = fromX + share * (toX - fromX);
    const y = fromY + share * (toY - fromY);
    let near = false;
    index.visitNear(x, y, x, y, reach, (edge) => {
      const ax = edges.ax[edge]!;
      const ay = edges.ay[edge]!;
      const bx = edges.bx[edge]!;
      const by = edges.by[edge]!;
      const alike = way * ((bx - ax) * (toX - fromX) + (by - ay) * (toY - fromY)) > 0;
      if (alike && squaredDistanceToEdge(x, y, ax, ay, bx, by) <= reach * reach) near = true;
    });
    return near;
  });

/**
 * Whether tiles cover the land inside an outline once and without a gap, told from their edges: every edge must occur
 * once each way, and those that do not must be the outline. A gap that equals an overlap in area does not hide here.
 * Vertices are compared to the last bit, so tiles come as they were rounded (plane or written longitude and latitude).
 * With `tolerance` 0 the outline must have the very edges the tiles have there (round it along with the tiles).
 * Otherwise edges on the outline may be off by up to `tolerance`, in the unit of the points, and the areas are compared too.
 * The tiles' rings are taken to be simple (`ringFaults`). Empty when all is well.
 */
export const tilingFaults = (
  tiles: readonly MultiPolygon[],
  outline: MultiPolygon,
  tolerance = 0,
): TilingFault[] => {
  const faults: TilingFault[] = [];
  tiles.forEach((tile, number) => {
    for (const polygon of tile) {
      polygon.forEach((ring, index) => {
        const area = ringArea(ring);
        if (!(index === 0 ? area > 0 : area < 0))
          faults.push({ kind: "turned", place: ring[0]!, tile: number });
      });
    }
  });
  const vertices = new VertexTable();
  const { xs, ys } = vertices;
  const own = directedEdges(tiles, vertices);
  const border = directedEdges([outline], vertices);
  const middle = (from: number, to: number): Point => [(xs[from]! + xs[to]!) / 2, (ys[from]! + ys[to]!) / 2];
  for (const { from, to, tile } of own.doubled)
    faults.push({ kind: "doubled", place: middle(from, to), tile });

  const outer = edgesWhere(own.edges, (from, to) => own.edges.find(to, from) < 0);
  let open = outer.filter((edge) => border.edges.find(own.edges.froms[edge]!, own.edges.tos[edge]!) < 0);
  let uncovered = edgesWhere(
    border.edges,
    (from, to) => own.edges.find(from, to) < 0 || own.edges.find(to, from) >= 0,
  );
  if (tolerance > 0) {
    const stretch = (edges: EdgeTable, edge: number): Stretch => {
      const from = edges.froms[edge]!;
      const to = edges.tos[edge]!;
      return [xs[from]!, ys[from]!, xs[to]!, ys[to]!];
    };
    const along = (edges: EdgeTable, numbers: readonly number[]): Edges => {
      const result = noEdges();
      for (const edge of numbers) addEdge(result, ...stretch(edges, edge));
      return result;
    };
    const borderEdges = along(
      border.edges,
      edgesWhere(border.edges, () => true),
    );
    const borderIndex = new EdgeIndex(borderEdges);
    const outerEdges = along(own.edges, outer);
    const outerIndex = new EdgeIndex(outerEdges);
    open = open.filter(
      (edge) =>
        !followsEdges(
          borderEdges,
          borderIndex,
          stretch(own.edges, edge),
          [0, 0.25, 0.5, 0.75, 1],
          tolerance,
          1,
        ),
    );
    uncovered = uncovered.filter((edge) => {
      const middlePart = stretch(border.edges, edge);
      return !(
        followsEdges(outerEdges, outerIndex, middlePart, [0.5], tolerance, 1) ||
        // Land narrower than the tolerance may have rounded away: then the far side of it is near.
        followsEdges(borderEdges, borderIndex, middlePart, [0.5], 2 * tolerance, -1)
      );
    });
    faults.push(...areaFaults(tiles, outline, tolerance));
  }
  for (const edge of open) {
    const place = middle(own.edges.froms[edge]!, own.edges.tos[edge]!);
    faults.push({ kind: "open", place, tile: own.tiles[edge]! });
  }
  for (const edge of uncovered) {
    const place = middle(border.edges.froms[edge]!, border.edges.tos[edge]!);
    faults.push({ kind: "uncovered", place, tile: -1 });
  }
  return faults;
};

/** The outline can move by the tolerance along its whole length, and no more. */
const areaFaults = (
  tiles: readonly MultiPolygon[],
  outline: MultiPolygon,
  tolerance: number,
): TilingFault[] => {
  const summer = new Summer();
  for (const tile of tiles) summer.add(multiPolygonArea(tile));
  let length = 0;
  for (const ring of outline.flat()) {
    ring.forEach(([x, y], index) => {
      const [toX, toY] = ring[(index + 1) % ring.length]!;
      length += Math.hypot(toX - x, toY - y);
    });
  }
  const off = Math.abs(summer.total - multiPolygonArea(outline));
  return off > tolerance * length ? [{ kind: "area", place: outline[0]?.[0]?.[0] ?? [0, 0], tile: -1 }] : [];
};
