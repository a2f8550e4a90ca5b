import { readFileSync } from "node:fs";
import { type Frame, fieldFrame, frameCentre, type MultiPolygon, type Point } from "../../src/geo/index.ts";

const folder = new URL("../data/boundaries/", import.meta.url);

/** Boundaries that are valid as they stand. */
export const VALID_FILES = [
  "01-quarter-corner-out.geojson",
  "02-waterways-ponds.geojson",
  "04-multipart-road-ditch.geojson",
  "07-necks-fingers-wedge.geojson",
  "08-big-complex.geojson",
];

export interface Expected {
  readonly file: string;
  readonly valid: boolean;
  readonly implement_width_m: number;
  readonly frame: { readonly lat0: number; readonly lon0: number };
  readonly area: {
    readonly geodesic_m2: number;
    readonly plane_m2: number;
    readonly lonlat_straight_edges_m2: number;
  };
}

export const expectedBoundaries = (): Expected[] =>
  JSON.parse(readFileSync(new URL("expected.json", folder), "utf8")).boundaries;

type Coordinates = [number, number][][];

interface AreaFeature {
  readonly geometry:
    | { readonly type: "Polygon"; readonly coordinates: Coordinates }
    | { readonly type: "MultiPolygon"; readonly coordinates: Coordinates[] };
}

interface LineFeature {
  readonly geometry: { readonly coordinates: [Point, Point] };
}

export interface Boundary {
  readonly lonLat: MultiPolygon;
  readonly frame: Frame;
  /** In the field's own frame. */
  readonly plane: MultiPolygon;
  readonly line: readonly [Point, Point];
}

/** Polygons with the closing vertex taken off and every point moved. */
export const openRings = (
  polygons: readonly Coordinates[],
  move = (point: Point): Point => point,
): MultiPolygon =>
  polygons.map((polygon) => polygon.map((ring) => ring.slice(0, -1).map(([x, y]) => move([x, y]))));

const features = <T>(file: URL): T => JSON.parse(readFileSync(file, "utf8")).features;

const boundaryOf = ({ geometry }: AreaFeature, line: LineFeature, frame?: Frame): Boundary => {
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  const lonLat = openRings(polygons);
  const own = frame ?? fieldFrame(...frameCentre(lonLat));
  const [a, b] = line.geometry.coordinates;
  return {
    lonLat,
    frame: own,
    plane: openRings(polygons, own.toPlane),
    line: [own.toPlane(a), own.toPlane(b)],
  };
};

/** One of tests/data/boundaries, in its own frame. */
export const readBoundary = (name: string): Boundary => {
  const [area, line] = features<[AreaFeature, LineFeature]>(new URL(name, folder));
  return boundaryOf(area, line);
};

/** The field of tests/data/chain, in the frame its figures were worked out in. */
export const readChain = (): Boundary => {
  const [area] = features<[AreaFeature]>(new URL("../chain/boundary.geojson", folder));
  const [line] = features<[LineFeature]>(new URL("../chain/guidance.geojson", folder));
  return boundaryOf(area, line, fieldFrame(-94.9, 41.3));
};
