import { Summer } from "../numeric/index.ts";
import { squaredDistanceToEdge } from "./distance-to-boundary.ts";
import { addEdge, EdgeIndex, type Edges, noEdges } from "./edge-index.ts";
import { multiPolygonArea, ringArea } from "./plane-area.ts";
import type { MultiPolygon, Point } from "./types.ts";
import { VertexTable } from "./vertex-table.ts";

export interface TilingFault {
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

/** Directed edges of rings by the numbers of their ends, with the tile each belongs to. */
interface DirectedEdges {
  readonly owner: Map<number, number>;
  readonly doubled: [key: number, tile: number][];
}

const KEY = 0x4000000;
const opposite = (key: number): number => (key % KEY) * KEY + Math.floor(key / KEY);

const directedEdges = (tiles: readonly MultiPolygon[], vertices: VertexTable): DirectedEdges => {
  const owner = new Map<number, number>();
  const doubled: [number, number][] = [];
  tiles.forEach((tile, number) => {
    for (const polygon of tile) {
      for (const ring of polygon) {
        const last = ring[ring.length - 1]!;
        let from = vertices.idOf(last[0], last[1]);
        for (const [x, y] of ring) {
          const to = vertices.idOf(x, y);
          const key = from * KEY + to;
          if (owner.has(key)) doubled.push([key, number]);
          else owner.set(key, number);
          from = to;
        }
      }
    }
  });
  return { owner, doubled };
};

/** Whether a stretch of edge runs within `reach` of edges of a set, the same way (or, with `way` -1, the other way). */
const followsEdges = (
  edges: Edges,
  index: EdgeIndex,
  [fromX, fromY, toX, toY]: readonly [number, number, number, number],
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
  const { owner, doubled } = directedEdges(tiles, vertices);
  const border = directedEdges([outline], vertices).owner;
  const ends = (key: number): [number, number, number, number] => {
    const from = Math.floor(key / KEY);
    const to = key % KEY;
    return [xs[from]!, ys[from]!, xs[to]!, ys[to]!];
  };
  const middle = (key: number): Point => {
    const [ax, ay, bx, by] = ends(key);
    return [(ax + bx) / 2, (ay + by) / 2];
  };
  for (const [key, tile] of doubled) faults.push({ kind: "doubled", place: middle(key), tile });

  const outer = [...owner.keys()].filter((key) => !owner.has(opposite(key)));
  let open = outer.filter((key) => !border.has(key));
  let uncovered = [...border.keys()].filter((key) => !owner.has(key) || owner.has(opposite(key)));
  if (tolerance > 0) {
    const edgesOf = (keys: Iterable<number>): Edges => {
      const edges = noEdges();
      for (const key of keys) addEdge(edges, ...ends(key));
      return edges;
    };
    const borderEdges = edgesOf(border.keys());
    const borderIndex = new EdgeIndex(borderEdges);
    const outerEdges = edgesOf(outer);
    const outerIndex = new EdgeIndex(outerEdges);
    const all = [0, 0.25, 0.5, 0.75, 1];
    open = open.filter((key) => !followsEdges(borderEdges, borderIndex, ends(key), all, tolerance, 1));
    uncovered = uncovered.filter(
      (key) =>
        !followsEdges(outerEdges, outerIndex, ends(key), [0.5], tolerance, 1) &&
        // Land narrower than the tolerance may have rounded away: then the far side of it is near.
        !followsEdges(borderEdges, borderIndex, ends(key), [0.5], 2 * tolerance, -1),
    );
    faults.push(...areaFaults(tiles, outline, tolerance));
  }
  for (const key of open) faults.push({ kind: "open", place: middle(key), tile: owner.get(key)! });
  for (const key of uncovered) faults.push({ kind: "uncovered", place: middle(key), tile: -1 });
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
