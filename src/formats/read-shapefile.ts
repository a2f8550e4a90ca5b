import { InputError, type Notice } from "../errors/index.ts";
import { nestRings, type Point, type Ring } from "../geo/index.ts";
import type { Feature, Geometry, Layer, Properties } from "./feature.ts";
import { type DbfTable, readDbf } from "./read-dbf.ts";
import { readZip } from "./read-zip.ts";
import { type ShapefileParts, shapefilesIn } from "./shapefile-parts.ts";
import { checkShapefileSystem } from "./shapefile-system.ts";
import { readShpShapes, type ShpShape, type ShpShapes } from "./shp-shapes.ts";

/**
 * Every shapefile of a zip archive, in the archive's order; `name` is the archive's name.
 * Throws `no-shapefile`, the errors of `readZip` and those of `readShapefile`.
 */
export function readShapefileZip(bytes: Uint8Array, name: string): Layer[] {
  const { files, notices } = readZip(bytes, name);
  const layers = shapefilesIn(files, name).map((parts) => readShapefile(parts, name));
  if (layers.length === 0) {
    const message = `${name} holds no .shp file`;
    throw new InputError("no-shapefile", message, "Zip the .shp together with its .shx, .dbf and .prj.");
  }
  return layers.map((layer) => ({ ...layer, notices: [...notices, ...layer.notices] }));
}

/**
 * One shapefile as a layer. `name` is the file the user chose, for messages. Z and M are dropped; holes are
 * found by containment, not by direction; a null shape stays as a feature without geometry; a record marked
 * deleted is left out with a notice; a multipoint record gives one feature a point, with a notice.
 * No .dbf, no .shx: notices. No .prj: a notice when the numbers look like degrees.
 * Throws `no-shapes`, `close-ring`, `ring-too-short`, `coordinate-system` (no .prj and no degrees),
 * `not-read-yet` (a coordinate system other than WGS84 degrees), `records-unlike-rows`, `swap-lon-lat`, and the
 * errors of the parts.
 */
export function readShapefile(parts: ShapefileParts, name: string): Layer {
  const path = name.endsWith(parts.path) ? name : `${name}: ${parts.path}`;
  const { kind, shapes } = readShpShapes(parts.shp, parts.shx, path);
  const table = parts.dbf && readDbf(parts.dbf, parts.cpg, pathOf(path, "dbf"));
  if (table !== undefined && table.rows.length !== shapes.length) {
    throw new InputError(
      "records-unlike-rows",
      `${path} has ${shapes.length} shapes, its .dbf has ${table.rows.length} rows`,
      "Export the shapefile again; shapes and attributes no longer belong together.",
    );
  }
  const notices: Notice[] = table === undefined ? [] : [...table.notices];
  if (table === undefined) {
    const message = "no attribute table (.dbf); the shapes are read without attributes";
    notices.push({ code: "no-attributes", message, where: path });
  }
  if (parts.shx === undefined) {
    notices.push({ code: "no-index", message: "no index (.shx); records are read in a row", where: path });
  }
  const features = shapes.flatMap((shape, index) => {
    const properties = table === undefined ? {} : table.rows[index];
    return readRecord(kind, shape, properties, index + 1, path, notices);
  });
  if (features.length === 0) {
    throw new InputError("no-shapes", `${path}: no shapes in this file`, "Choose the file with the shapes.");
  }
  const coordinateSystemFrom = checkShapefileSystem(parts, features, path, notices);
  return {
    name: parts.stem,
    features,
    columns: table?.columns ?? [],
    coordinateSystem: "EPSG:4326",
    coordinateSystemFrom,
    encoding: table?.encoding ?? "UTF-8",
    notices,
  };
}

function readRecord(
  kind: ShpShapes["kind"],
  shape: ShpShape | null,
  properties: DbfTable["rows"][number] | undefined,
  record: number,
  path: string,
  notices: Notice[],
): Feature[] {
  const where = `${path}, record ${record}`;
  if (properties === null || properties === undefined) {
    const message = `record ${record} is marked deleted and was skipped`;
    notices.push({ code: "deleted-record", message, where: path });
    return [];
  }
  const geometries = shape === null ? [null] : geometriesOf(kind, shape, where);
  if (geometries.length > 1) {
    const message = `record ${record} holds ${geometries.length} points; each is read with the same attributes`;
    notices.push({ code: "multipoint", message, where: path });
  }
  return geometries.map((geometry) => ({ record, geometry, properties: properties as Properties }));
}

function geometriesOf(kind: ShpShapes["kind"], shape: ShpShape, where: string): Geometry[] {
  if (kind === "polygon") return [{ kind, polygons: nestRings(shape.map((ring) => openRing(ring, where))) }];
  if (kind === "line") return [{ kind, parts: shape.map((part) => checkedLine(part, where)) }];
  return shape.flat().map((at) => ({ kind: "point", at }));
}

function openRing(points: readonly Point[], where: string): Ring {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 4) {
    const message = `${where}: a ring has ${points.length} vertices; it needs 4, the first and last the same`;
    throw new InputError("ring-too-short", message, "Draw the polygon again.");
  }
  if (first[0] === last[0] && first[1] === last[1]) return points.slice(0, -1);
  throw new InputError(
    "close-ring",
    `${where}: a ring is not closed; it begins at ${first.join(", ")} and ends at ${last.join(", ")}`,
    "End every ring at its first vertex.",
  );
}

function checkedLine(points: readonly Point[], where: string): readonly Point[] {
  if (points.length >= 2) return points;
  const message = `${where}: a line has ${points.length} vertices; it needs 2`;
  throw new InputError("line-too-short", message, "Draw the line again.");
}

function pathOf(shpPath: string, ending: string): string {
  return `${shpPath.slice(0, -3)}${ending}`;
}
