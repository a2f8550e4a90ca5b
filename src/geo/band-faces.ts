import type { Bounds } from "./bounds.ts";
import { EdgeIndex, type Edges, edgesOf } from "./edge-index.ts";
import type { FlatRing } from "./flat-ring.ts";
import { type MeasuredRing, measuredRing, placeAlong } from "./measured-ring.ts";
import { doubleArea } from "./nest-loops.ts";
import { orient } from "./orient.ts";
import { multiPolygonArea } from "./plane-area.ts";
import type { Loop } from "./retrace.ts";
import { SpokeGraph } from "./spoke-graph.ts";
import type { MultiPolygon, Point, Ring } from "./types.ts";

/** A piece of a band, not yet rounded. */
export interface BandFace {
  /** One outer ring and its holes, land on the left. */
  readonly rings: readonly FlatRing[];
  readonly areaM2: number;
  /** Where along the inner ring it lies; undefined when it touches none, as in a neck that the inner land does not reach. */
  readonly along: BandStretch | undefined;
}

/** A stretch of an inner ring between two stations. */
interface BandStretch {
  /** Number of the inner ring, counted over all parts of the inner land. */
  readonly ring: number;
  /** Number of the stretch from the ring's origin, the way the ring runs: inner land on its left. */
  readonly column: number;
  /** Metres along the ring from its origin. */
  readonly startM: number;
  readonly endM: number;
  /** Unit vector the ring runs along in the middle of the stretch. */
  readonly way: Point;
}

interface BandCut {
  /** Distance from the outer land's border to the inner one's. */
  readonly depthM: number;
  /** Length of a piece along the inner ring. Without an origin each ring is divided evenly into pieces near that long. */
  readonly stationM: number;
  /** Stations are counted from the place on each inner ring nearest to this, both ways; else from its first vertex. */
  readonly origin?: Point;
  /** Where stations are wanted; everywhere when left out. */
  readonly near?: Bounds;
}

/**
 * The band between land and the same land inset, cut across by straight spokes: from stations on each inner ring to the
 * nearest place of the outer border (such spokes never cross). The faces tile the band and share their vertices.
 * Undefined when the faces do not add up to the band, each above nothing; the band must then be cut another way.
 */
export const bandFaces = (outer: MultiPolygon, inner: MultiPolygon, cut: BandCut): BandFace[] | undefined => {
  const graph = new SpokeGraph();
  const border = new Border(orient(outer).flat());
  const stretches = new Map<string, BandStretch>();
  orient(inner)
    .flat()
    .forEach((ring, number) => {
      addInnerRing(ring, number, cut, border, graph, stretches);
    });
  border.addTo(graph);
  const { xs, ys } = graph.vertices;
  const faces = graph.faces()?.map(
    (loops): BandFace => ({
      rings: loops.map((loop) => loop.flatMap((vertex) => [xs[vertex]!, ys[vertex]!])),
      areaM2: loops.reduce((total, loop) => total + doubleArea(loop, xs, ys) / 2, 0),
      along: stretchOf(loops, stretches),
    }),
  );
  const outerM2 = multiPolygonArea(outer);
  const total = faces?.reduce((sum, { areaM2 }) => sum + areaM2, multiPolygonArea(inner)) ?? Number.NaN;
  const isRight = Math.abs(total - outerM2) <= 1e-10 * outerM2 + 1e-6;
  return isRight && faces?.every(({ areaM2 }) => areaM2 > 0) ? faces : undefined;
};

const keyOf = (from: number, to: number): string => `${from},${to}`;

const stretchOf = (
  loops: readonly Loop[],
  stretches: ReadonlyMap<string, BandStretch>,
): BandStretch | undefined => {
  for (const loop of loops) {
    let from = loop[loop.length - 1]!;
    for (const to of loop) {
      const found = stretches.get(keyOf(from, to));
      if (found !== undefined) return found;
      from = to;
    }
  }
  return undefined;
};

/** The outer land's rings, and the feet of spokes on their edges. */
class Border {
  readonly #rings: readonly Ring[];
  readonly #edges: Edges;
  readonly #index: EdgeIndex;
  /** By edge: shares of its length with the place there. */
  readonly #feet = new Map<number, { readonly share: number; readonly place: Point }[]>();

  constructor(rings: readonly Ring[]) {
    this.#rings = rings;
    this.#edges = edgesOf(rings);
    this.#index = new EdgeIndex(this.#edges);
  }

  /** The place nearest to a point, if one is within reach. It becomes a vertex. */
  footOf([x, y]: Point, reachM: number): Point | undefined {
    const { ax, ay, bx, by } = this.#edges;
    let least = reachM * reachM;
    let nearest = -1;
    let nearestShare = 0;
    this.#index.visitNear(x, y, x, y, reachM, (edge) => {
      const runX = bx[edge]! - ax[edge]!;
      const runY = by[edge]! - ay[edge]!;
      const offX = x - ax[edge]!;
      const offY = y - ay[edge]!;
      const along = (offX * runX + offY * runY) / (runX * runX + runY * runY);
      const share = Math.min(1, Math.max(0, along));
      const squared = (offX - share * runX) ** 2 + (offY - share * runY) ** 2;
      if (squared > least || (squared === least && edge > nearest && nearest >= 0)) return;
      least = squared;
      nearest = edge;
      nearestShare = share;
    });
    if (nearest < 0) return undefined;
    const from: Point = [ax[nearest]!, ay[nearest]!];
    const to: Point = [bx[nearest]!, by[nearest]!];
    // A foot on a corner is the corner itself.
    if (nearestShare === 0) return from;
    if (nearestShare === 1) return to;
    const place: Point = [
      from[0] + nearestShare * (to[0] - from[0]),
      from[1] + nearestShare * (to[1] - from[1]),
    ];
    const known = this.#feet.get(nearest);
    if (known === undefined) this.#feet.set(nearest, [{ share: nearestShare, place }]);
    else known.push({ share: nearestShare, place });
    return place;
  }

  addTo(graph: SpokeGraph): void {
    let edge = 0;
    for (const ring of this.#rings) {
      const path: number[] = [];
      for (const [x, y] of ring) {
        path.push(graph.vertices.idOf(x, y));
        const feet = this.#feet.get(edge++) ?? [];
        for (const { place } of feet.toSorted((a, b) => a.share - b.share)) {
          path.push(graph.vertices.idOf(place[0], place[1]));
        }
      }
      graph.addRing(path);
    }
  }
}

/** A ring's vertices and stations, backward, since the band lies outside it; and a spoke from every station. */
const addInnerRing = (
  ring: Ring,
  number: number,
  cut: BandCut,
  border: Border,
  graph: SpokeGraph,
  stretches: Map<string, BandStretch>,
): void => {
  const measured = measuredRing(ring, cut.origin);
  const { vertices, endM, lengthM } = measured;
  const stepM =
    cut.origin === undefined ? lengthM / Math.max(1, Math.round(lengthM / cut.stationM)) : cut.stationM;
  const path: { id: number; atM: number }[] = [];
  let station = Math.ceil(vertices[0]!.atM / stepM);
  vertices.forEach(({ atM, place }, i) => {
    path.push({ id: graph.vertices.idOf(place[0], place[1]), atM });
    const nextM = vertices[i + 1]?.atM ?? endM;
    for (; station * stepM < nextM - 1e-6; station++) {
      const stationM = station * stepM;
      const onVertex = stationM <= atM + 1e-6;
      const at = onVertex ? place : placeAlong(measured, stationM).place;
      if (cut.near !== undefined && !holds(cut.near, at)) continue;
      const foot = border.footOf(at, 2.5 * cut.depthM);
      if (foot === undefined) continue;
      const id = graph.vertices.idOf(at[0], at[1]);
      if (!onVertex) path.push({ id, atM: stationM });
      graph.addSpoke(id, graph.vertices.idOf(foot[0], foot[1]));
    }
  });
  graph.addRing(path.map(({ id }) => id).reverse());
  const byColumn = new Map<number, BandStretch>();
  path.forEach(({ id, atM }, i) => {
    const toM = path[i + 1]?.atM ?? endM;
    const column = Math.floor((atM + toM) / 2 / stepM);
    const stretch = byColumn.get(column) ?? stretchAt(measured, number, column, stepM);
    byColumn.set(column, stretch);
    stretches.set(keyOf(path[(i + 1) % path.length]!.id, id), stretch);
  });
};

const stretchAt = (measured: MeasuredRing, ring: number, column: number, stepM: number): BandStretch => {
  const startM = Math.max(measured.vertices[0]!.atM, column * stepM);
  const endM = Math.min(measured.endM, (column + 1) * stepM);
  return { ring, column, startM, endM, way: placeAlong(measured, (startM + endM) / 2).way };
};

const holds = ({ minX, minY, maxX, maxY }: Bounds, [x, y]: Point): boolean =>
  x >= minX && x <= maxX && y >= minY && y <= maxY;
