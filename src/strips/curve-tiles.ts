import {
  type BandFace,
  type Bounds,
  bandFaces,
  boundsOf,
  clippedFaces,
  containsPoint,
  distanceToLine,
  insetLand,
  type MultiPolygon,
  type Point,
} from "../geo/index.ts";
import { type CurveSides, curveSides } from "./curve-sides.ts";
import type { LaidTile } from "./laid-tile.ts";

/** Passes along a digitised line, in plane metres, not yet rounded; neighbours agree to micrometres. */
interface CurveTiles {
  readonly tiles: readonly LaidTile[];
  readonly sides: CurveSides;
}

/** A side with fewer corners than this is cut at once in milliseconds. */
const MANY_CORNERS = 150;
const SHED = 2 / 3;

/**
 * The interior cut into passes parallel to a curve and those into segments: pass k is the land from (k - 1/2) to (k + 1/2)
 * widths from the curve, right of it when positive, by true distance: inside a bend sharper than that the edge has a
 * corner. Segments are counted from the place nearest to the curve's start, by length along the edge of the pass
 * that is farther from the curve (the right one of pass 0), and cut straight across to the nearest place of the other edge.
 */
export const curveTiles = (
  interior: MultiPolygon,
  curve: readonly Point[],
  widthM: number,
  segmentM: number,
): CurveTiles => {
  const sides = curveSides(curve, interior);
  const bounds = boundsOf(interior);
  const margin = 2 * (widthM + segmentM);
  const near = {
    minX: bounds.minX - margin,
    minY: bounds.minY - margin,
    maxX: bounds.maxX + margin,
    maxY: bounds.maxY + margin,
  };
  const cut = { depthM: widthM, stationM: segmentM, origin: curve[0]!, near };
  const tiles: LaidTile[] = [];
  const keep = (pass: number, outer: MultiPolygon, inner: MultiPolygon): void => {
    const faces = (bandFaces(outer, inner, cut) ?? wholeBand(outer, inner)).filter(({ rings }) =>
      reaches(rings, bounds),
    );
    const clipped = clippedFaces(
      faces.map(({ rings }) => rings),
      interior,
    );
    faces.forEach(({ along }, i) => {
      if (clipped[i]!.length > 0) tiles.push(tileOf(pass, along, clipped[i]!));
    });
  };
  const [most, least] = outmostPasses(interior, sides, widthM);
  const [rightOf, leftOf] = [ringsInto(sides.right, widthM), ringsInto(sides.left, widthM)];
  let right = rightOf(0);
  let left = leftOf(0);
  keep(0, besides(sides, left), right);
  for (let pass = 1; pass <= most || reachesInto(right, interior); pass++) {
    const next = rightOf(pass);
    keep(pass, right, next);
    right = next;
  }
  for (let pass = 1; pass <= -least || reachesInto(left, interior); pass++) {
    const next = leftOf(pass);
    keep(-pass, left, next);
    left = next;
  }
  return { tiles, sides };
};

/**
 * Land beyond one pass after another, asked for in order. Each is cut from the side itself, but once a third of many
 * corners is gone, from there on: a walked bend cut to beyond its centre at once is a knot that takes seconds.
 */
const ringsInto = (side: MultiPolygon, widthM: number): ((pass: number) => MultiPolygon) => {
  let from = side;
  let fromM = 0;
  return (pass) => {
    const distanceM = (pass + 0.5) * widthM;
    const rings = insetLand(from, distanceM - fromM);
    if (corners(from) > MANY_CORNERS && corners(rings) < SHED * corners(from)) {
      [from, fromM] = [rings, distanceM];
    }
    return rings;
  };
};

const corners = (land: MultiPolygon): number => land.flat().reduce((count, ring) => count + ring.length, 0);

/** Rings right of the line run back along it, rings left of it forward. */
const tileOf = (pass: number, along: BandFace["along"], rings: LaidTile["rings"]): LaidTile => {
  const plain = { kind: "interior", pass, track: 0, rings } as const;
  if (along === undefined) return { ...plain, column: 0, alongM: [0, 0], way: [0, 1] };
  const { column, startM, endM, way } = along;
  if (pass < 0) return { ...plain, column, alongM: [startM, endM], way };
  return { ...plain, column: -1 - column, alongM: [0 - endM, 0 - startM], way: [0 - way[0], 0 - way[1]] };
};

const wholeBand = (outer: MultiPolygon, inner: MultiPolygon): BandFace[] => {
  const rings = [...outer.flat(), ...inner.flat().map((ring) => ring.toReversed())];
  return [{ rings: rings.map((ring) => ring.flat()), areaM2: 0, along: undefined }];
};

/** The disc but for the land left of pass 0. */
const besides = ({ disc }: CurveSides, left: MultiPolygon): MultiPolygon => [
  [disc, ...left.map(([shell]) => shell!)],
  ...left.flatMap(([, ...holes]) => holes.map((hole) => [hole])),
];

/** Numbers of the farthest passes that a corner of the land lies in, right and left; its edges may lie farther out. */
const outmostPasses = (
  interior: MultiPolygon,
  { line, right }: CurveSides,
  widthM: number,
): [most: number, least: number] => {
  let most = 0;
  let least = 0;
  for (const point of interior.flat(2)) {
    const pass = Math.floor(distanceToLine(line, point) / widthM + 0.5);
    if (containsPoint(right, point)) most = Math.max(most, pass);
    else least = Math.min(least, -pass);
  }
  return [most, least];
};

/** Whether any of the land still lies beyond the passes laid so far. */
const reachesInto = (beyond: MultiPolygon, land: MultiPolygon): boolean =>
  beyond.length > 0 && clippedFaces([beyond.flat().map((ring) => ring.flat())], land)[0]!.length > 0;

const reaches = (rings: BandFace["rings"], { minX, minY, maxX, maxY }: Bounds): boolean => {
  let [west, south, east, north] = [maxX + 1, maxY + 1, minX - 1, minY - 1];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      west = Math.min(west, ring[i]!);
      east = Math.max(east, ring[i]!);
      south = Math.min(south, ring[i + 1]!);
      north = Math.max(north, ring[i + 1]!);
    }
  }
  return west <= maxX && east >= minX && south <= maxY && north >= minY;
};
