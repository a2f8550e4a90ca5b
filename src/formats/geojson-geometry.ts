import { InputError } from "../errors/index.ts";
import { orient, type Point, type Ring } from "../geo/index.ts";
import type { Geometry } from "./feature.ts";

/** Shapes of one GeoJSON geometry, grouped by kind; several points stay several shapes. */
export interface GeoJsonShapes {
  readonly points: Point[];
  readonly lines: Point[][];
  readonly polygons: Ring[][];
}

/**
 * Adds the shapes of a GeoJSON geometry (RFC 7946, 3.1) to `shapes`; collections are taken apart.
 * `where` names file and feature. Heights are dropped, closing positions too; an empty list of coordinates is
 * no shape (3.1). Throws `not-geojson`, `bad-coordinate`, `ring-too-short`, `close-ring`, `line-too-short`.
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
  else if (type === "MultiPoint") shapes.points.push(...positions(coordinates, where));
  else if (type === "LineString") shapes.lines.push(line(coordinates, where));
  else if (type === "MultiLineString") for (const part of coordinates) shapes.lines.push(line(part, where));
  else if (type === "Polygon") shapes.polygons.push(polygon(coordinates, where));
  else if (type === "MultiPolygon")
    for (const part of coordinates) shapes.polygons.push(polygon(part, where));
  else throw notGeoJson(where, `"${String(type)}" is no geometry type`);
}

/** Geometries of the shapes of one kind: one for lines, one for polygons, one a point. */
export function geometriesOf(shapes: GeoJsonShapes): Geometry[] {
  if (shapes.polygons.length > 0) return [{ kind: "polygon", polygons: orient(shapes.polygons) }];
  if (shapes.lines.length > 0) return [{ kind: "line", parts: shapes.lines }];
  return shapes.points.map((at) => ({ kind: "point", at }));
}

function polygon(value: unknown, where: string): Ring[] {
  return list(value, where).map((ring) => openRing(positions(ring, where), where));
}

function openRing(points: Point[], where: string): Ring {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 3) throw shortRing(where, points.length);
  if (first[0] !== last[0] || first[1] !== last[1]) {
    throw new InputError(
      "close-ring",
      `${where}: a ring is not closed; it begins at ${first.join(", ")} and ends at ${last.join(", ")}`,
      "End every ring at its first position.",
    );
  }
  if (points.length < 4) throw shortRing(where, points.length);
  return points.slice(0, -1);
}

function shortRing(where: string, length: number): InputError {
  return new InputError(
    "ring-too-short",
    `${where}: a ring has ${length} positions; it needs 4, the first and last the same`,
    "Draw the polygon again.",
  );
}

function line(value: unknown, where: string): Point[] {
  const points = positions(value, where);
  if (points.length < 2) {
    const message = `${where}: a line has ${points.length} positions; it needs 2`;
    throw new InputError("line-too-short", message, "Draw the line again.");
  }
  return points;
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
