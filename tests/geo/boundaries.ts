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
  readonly rows: number;
  readonly row_spacing_in: number;
  readonly implement_width_m: number;
  readonly headland_passes: number;
  readonly frame: { readonly lat0: number; readonly lon0: number };
  readonly area: {
    readonly geodesic_m2: number;
    readonly plane_m2: number;
    readonly lonlat_straight_edges_m2: number;
    readonly rel_tol: number;
  };
  readonly repaired: { readonly parts_over_0_1_m2: number; readonly holes_over_0_1_m2: number };
  readonly headlands: readonly {
    readonly headland_passes: number;
    readonly headland_ac: number;
    readonly interior_ac: number;
    readonly interior_parts: number;
  }[];
  readonly rel_tol_offset_area: number;
  readonly interior: {
    readonly passes_over_1_m2: number;
    readonly passes_over_20_m2: number;
    readonly runs_over_1_m2: number;
    readonly runs_over_20_m2: number;
    readonly pass_index_min: number;
    readonly pass_index_max: number;
    readonly centreline_m?: number;
    readonly row_length_m?: number;
    readonly segments_over_1_m2?: number;
    readonly segments_whole?: number;
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
  readonly geometry: { readonly coordinates: readonly [Point, Point, ...Point[]] };
}

export interface Boundary {
  readonly lonLat: MultiPolygon;
  readonly frame: Frame;
  /** In the field's own frame. */
  readonly plane: MultiPolygon;
  readonly line: readonly [Point, Point];
  /** The whole guidance line: two points, or more for a curve. */
  readonly guidance: readonly Point[];
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
    guidance: line.geometry.coordinates.map(own.toPlane),
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
