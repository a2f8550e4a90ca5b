import { InputError } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import type { RawGeometry } from "./raw-layer.ts";

/** Shapes of one GeoJSON geometry, grouped by kind; several points stay several shapes. */
export interface GeoJsonShapes {
  readonly points: Point[];
  readonly lines: Point[][];
  readonly polygons: Point[][][];
}

/**
 * Adds the shapes of a GeoJSON geometry (RFC 7946, 3.1) to `shapes`; collections are taken apart.
 * `where` names file and feature. Heights are dropped; an empty list of coordinates is no shape (3.1). Rings stay as they
 * are, closed or not. Throws `not-geojson`, `bad-coordinate`.
 */
export function collectShapes(value: unknown, where: string, shapes: GeoJsonShapes): void {
  const geometry = value as { type?: unknown; coordinates?: unknown; geometries?: unknown };
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    throw notGeoJson(where, "the geometry is not an object");
  }
  const { type } = geometry;
  if (type === "GeometryCollection") {
    for (const part of list(geometry.geometries, where)) collectShapes(part, where, shapes);
    return;
  }
  const coordinates = list(geometry.coordinates, where);
  if (coordinates.length === 0) return;
  if (type === "Point") shapes.points.push(position(coordinates, where));
  else if (type === "MultiPoint") for (const at of positions(coordinates, where)) shapes.points.push(at);
  else if (type === "LineString") shapes.lines.push(positions(coordinates, where));
  else if (type === "MultiLineString")
    for (const part of coordinates) shapes.lines.push(positions(part, where));
  else if (type === "Polygon") shapes.polygons.push(polygon(coordinates, where));
  else if (type === "MultiPolygon")
    for (const part of coordinates) shapes.polygons.push(polygon(part, where));
  else throw notGeoJson(where, `"${String(type)}" is no geometry type`);
}

/** Geometries of the shapes of one kind: one for lines, one for polygons, one a point. */
export function geometriesOf(shapes: GeoJsonShapes): RawGeometry[] {
  if (shapes.polygons.length > 0) return [{ kind: "polygon", polygons: shapes.polygons, nested: true }];
  if (shapes.lines.length > 0) return [{ kind: "line", parts: shapes.lines }];
  return shapes.points.map((at) => ({ kind: "point", at }));
}

function polygon(value: unknown, where: string): Point[][] {
  return list(value, where).map((ring) => positions(ring, where));
}

function positions(value: unknown, where: string): Point[] {
  return list(value, where).map((point) => position(list(point, where), where));
}

function position(value: readonly unknown[], where: string): Point {
  const [x, y] = value;
  if (typeof x === "number" && typeof y === "number" && Number.isFinite(x) && Number.isFinite(y))
    return [x, y];
  throw new InputError(
    "bad-coordinate",
    `${where}: ${JSON.stringify(value).slice(0, 60)} is no position of two numbers`,
    "Export the file again; a position is [longitude, latitude].",
  );
}

function list(value: unknown, where: string): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw notGeoJson(where, `coordinates expected, ${JSON.stringify(value)?.slice(0, 60)} found`);
}

export function notGeoJson(where: string, what: string): InputError {
  return new InputError("not-geojson", `${where}: ${what}`, "Export the file again as GeoJSON (RFC 7946).");
}
