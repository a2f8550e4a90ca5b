import { Clipper, EndType, FillRule, JoinType, type PathsD } from "clipper2-ts";
import type { Geometry } from "./geometry.ts";
import { orient } from "./orient.ts";
import { snapFlatTiles } from "./snap-tiles.ts";
import type { MultiPolygon } from "./types.ts";

/** Decimals of a metre the clipper works with: 0.1 mm. */
const DECIMALS = 4;
/** Most that the chords of a rounded corner may fall short of the distance, m. */
const ARC_M = 0.005;

/**
 * The ground within a distance of a shape, the shape itself counted; metres in one plane. Rounded at corners and ends.
 * Exact to 5 mm. Empty for a point or a line at distance 0. The distance is not negative.
 */
export function setbackArea(shape: Geometry, distanceM: number): MultiPolygon {
  if (!(distanceM >= 0)) throw new Error(`setbackArea: distance ${distanceM} m`);
  if (shape.kind === "polygon") {
    const land = pathsOf(shape.polygons);
    if (distanceM === 0) return areaOf(Clipper.unionD(land, [], FillRule.NonZero, DECIMALS));
    return areaOf(widened(land, distanceM, EndType.Polygon));
  }
  if (distanceM === 0) return [];
  const lines = shape.kind === "point" ? [[shape.at]] : shape.parts;
  const paths = lines.map((line) => line.map(([x, y]) => ({ x, y })));
  return areaOf(widened(paths, distanceM, EndType.Round));
}

/** All ground that lies in any of the areas. */
export const joinedArea = (areas: readonly MultiPolygon[]): MultiPolygon =>
  areaOf(Clipper.unionD(areas.flatMap(pathsOf), [], FillRule.NonZero, DECIMALS));

/** The ground that lies in both areas, to 0.1 mm. */
export function commonArea(one: MultiPolygon, other: MultiPolygon): MultiPolygon {
  if (one.length === 0 || other.length === 0) return [];
  return areaOf(Clipper.intersectD(pathsOf(one), pathsOf(other), FillRule.NonZero, DECIMALS));
}

const widened = (paths: PathsD, distanceM: number, ends: EndType): PathsD =>
  Clipper.inflatePathsD(paths, distanceM, JoinType.Round, ends, 2, DECIMALS, ARC_M);

const pathsOf = (area: MultiPolygon): PathsD =>
  orient(area).flatMap((polygon) => polygon.map((ring) => ring.map(([x, y]) => ({ x, y }))));

/** Outer paths counter-clockwise and holes clockwise, put together; a path that meets itself is split there. */
const areaOf = (paths: PathsD): MultiPolygon =>
  snapFlatTiles([paths.map((path) => path.flatMap(({ x, y }) => [x, y]))], 10 ** DECIMALS)[0]!;
