import {
  type MultiPolygon,
  type Point,
  type Polygon,
  polygonFinder,
  unionOfTiles,
} from "../../src/geo/index.ts";
import { type LaidStrips, type Stretch, stripSegments } from "../../src/strips/index.ts";
import { acres } from "../../src/units/index.ts";

/** A rate map as a controller sees it. */
export interface RatedPolygon {
  readonly polygon: Polygon;
  readonly lbPerAc: number;
}

export interface Drive {
  /** Land driven over, in the plane of the map, metres. */
  readonly land: MultiPolygon;
  /** The line driven along and its parallels, A then B. */
  readonly line: readonly Point[];
  readonly widthM: number;
  /** Distance between two looks at the map, m. */
  readonly lookM: number;
}

/** One look at the map: the land covered until the next one and the rate it gets. */
export interface DrivenCell {
  readonly polygon: Polygon;
  readonly areaAc: number;
  readonly lbPerAc: number;
}

/**
 * What comes down when a map is driven in other passes than it was made for: the whole width gets the rate the map has
 * under the middle of the rig, at the middle of each look; off the map, 0. Delay is left out. Land is covered once.
 */
export const driveMap = (
  map: readonly RatedPolygon[],
  { land, line, widthM, lookM }: Drive,
): DrivenCell[] => {
  const find = polygonFinder(map.map(({ polygon }) => polygon));
  const [a, b] = line as readonly [Point, Point];
  const length = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  const [east, north] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return stripSegments({ boundary: land, line, widthM, segmentM: lookM }).map(
    ({ pass, column, polygon, areaM2 }) => {
      const across = pass * widthM;
      const along = (column + 0.5) * lookM;
      const middle: Point = [a[0] + across * north + along * east, a[1] - across * east + along * north];
      // Where the middle is off the map, at an edge, the controller holds what it finds nearest inside.
      const found = find(middle);
      const under = found >= 0 ? found : find(middleOf(polygon));
      return { polygon, areaAc: acres(areaM2), lbPerAc: under >= 0 ? map[under]!.lbPerAc : 0 };
    },
  );
};

const middleOf = ([shell]: Polygon): Point => {
  const count = shell!.length;
  const [x, y] = shell!.reduce(([sumX, sumY], [px, py]) => [sumX + px, sumY + py] as const, [0, 0] as Point);
  return [x / count, y / count];
};

/** The land of each stretch, its segments put together; `runs` of stretches are numbers of the layout's runs. */
export const stretchPolygons = (
  { segments, runs }: LaidStrips,
  stretches: readonly Stretch[],
): MultiPolygon[] =>
  stretches.map(({ run, first, end }) =>
    unionOfTiles(runs[run]!.segments.slice(first, end).map((segment) => segments[segment]!.polygon)),
  );
