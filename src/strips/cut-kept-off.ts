import {
  boundsOf,
  commonArea,
  cutIntoBands,
  type FlatRing,
  type MultiPolygon,
  type Point,
  pointsOf,
  polygonArea,
  STEPS_PER_METRE,
  snapFlatTiles,
} from "../geo/index.ts";
import type { LaidTile } from "./laid-tile.ts";

/** Ground that a piece may share with what is kept off and still not touch it, m2: a common edge, rounded. */
const TOUCH_M2 = 0.1;
/** Cuts stand so far off the ground, m: more than the rounding to come. */
const CLEAR_M = 0.005;
/** Less than this of a piece is not cut off it, m along the pass. */
const SHORTEST_M = 1;

/**
 * Tiles of passes cut straight across where ground that is to be kept off begins and ends. One rate goes out over the
 * whole width, so a piece is kept off over its whole width as soon as any of it lies in that ground. `ground` lies in the
 * frame of the tiles. A cut is made once and serves both parts; the neighbours get its ends when all are rounded together.
 */
export const cutKeptOff = (tiles: readonly LaidTile[], ground: MultiPolygon): LaidTile[] => {
  if (ground.length === 0) return [...tiles];
  const parts = ground.map((polygon) => ({ polygon, box: boundsOf([polygon]) }));
  return tiles.flatMap((tile) => {
    const box = boundsOf([tile.rings.map(pointsOf)]);
    const near = parts.filter(
      (part) =>
        part.box.minX < box.maxX &&
        part.box.maxX > box.minX &&
        part.box.minY < box.maxY &&
        part.box.maxY > box.minY,
    );
    if (near.length === 0) return [tile];
    const land = snapFlatTiles([tile.rings], STEPS_PER_METRE)[0]!;
    const common = commonArea(
      near.map(({ polygon }) => polygon),
      land,
    ).filter((polygon) => polygonArea(polygon) > TOUCH_M2);
    return common.length === 0 ? [tile] : cutAcross(tile, common);
  });
};

/** The tile in parts, by turns off and on, from its start along the pass. */
const cutAcross = (tile: LaidTile, common: MultiPolygon): LaidTile[] => {
  const { toWay, back } = alongWay(tile);
  const along = tile.rings.flatMap((ring) => pointsOf(ring).map((point) => toWay(point)[1]));
  const [start, end] = extent(along);
  const off = joined(
    common
      .map((polygon) => extent(polygon[0]!.map((point) => toWay(point)[1])))
      .map(([from, to]): Span => [from - CLEAR_M, to + CLEAR_M])
      .sort((a, b) => a[0] - b[0]),
    [start, end],
  );
  const result: LaidTile[] = [];
  const keep = (rings: readonly FlatRing[], from: number, to: number, keptOff: boolean): void => {
    if (rings.length === 0) return;
    const share = (at: number): number => (at - start) / (end - start);
    const { alongM } = tile;
    const between = alongM && ((at: number) => alongM[0] + share(at) * (alongM[1] - alongM[0]));
    result.push({
      ...tile,
      rings: rings.map(back),
      alongM: between && [between(from), between(to)],
      ...(keptOff ? { keptOff } : {}),
    });
  };
  let rest: readonly FlatRing[] = tile.rings.map((ring) => pointsOf(ring).flatMap((point) => toWay(point)));
  let at = start;
  for (const [from, to] of off) {
    if (from > at) {
      const [before, after] = halves(rest, from);
      keep(before, at, from, false);
      rest = after;
    }
    const [within, after] = to < end ? halves(rest, to) : [rest, []];
    keep(within, Math.max(from, at), to, true);
    rest = after;
    at = to;
  }
  keep(rest, at, end, false);
  return result;
};

type Span = readonly [from: number, to: number];

/** Spans that leave too little between them, or at an end, made one with it. */
const joined = (spans: readonly Span[], [start, end]: Span): Span[] => {
  const result: [number, number][] = [];
  for (const [from, to] of spans) {
    const last = result[result.length - 1];
    if (last !== undefined && from < last[1] + SHORTEST_M) last[1] = Math.max(last[1], to);
    else result.push([from < start + SHORTEST_M ? start : from, to]);
  }
  const last = result[result.length - 1]!;
  if (last[1] > end - SHORTEST_M) last[1] = end;
  return result;
};

const FAR = 1e7;

const halves = (rings: readonly FlatRing[], at: number): [below: FlatRing[], above: FlatRing[]] => {
  const bands = cutIntoBands(rings, { axis: 1, line: (band) => at + band * FAR });
  return [bands.get(-1) ?? [], bands.get(0) ?? []];
};

/** Turned so that the pass runs up the second axis; what comes back unchanged has the bits it went in with. */
const alongWay = ({ way: [wayX, wayY] }: LaidTile) => {
  const known = new Map<string, Point>();
  const toWay = (point: Point): Point => {
    const [x, y] = point;
    const turned: Point = [x * wayY - y * wayX, x * wayX + y * wayY];
    known.set(turned.join(), point);
    return turned;
  };
  const back = (ring: FlatRing): FlatRing =>
    pointsOf(ring).flatMap((turned) => {
      const [x, y] = turned;
      return [...(known.get(turned.join()) ?? [x * wayY + y * wayX, y * wayY - x * wayX])];
    });
  return { toWay, back };
};

const extent = (values: readonly number[]): [least: number, most: number] =>
  values.reduce(([least, most], value) => [Math.min(least, value), Math.max(most, value)], [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ] as [number, number]);
