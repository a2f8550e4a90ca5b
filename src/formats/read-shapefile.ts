import { InputError, type Notice } from "../errors/index.ts";
import type { Layer, Properties, Skipped } from "./feature.ts";
import {
  checkRawShape,
  type RawFeature,
  type RawGeometry,
  type RawLayer,
  type StatedSystem,
} from "./raw-layer.ts";
import { type DbfTable, readDbf } from "./read-dbf.ts";
import { readWkt, wktName } from "./read-prj.ts";
import { readText } from "./read-text.ts";
import { readZip } from "./read-zip.ts";
import { type ShapefileParts, shapefilesIn } from "./shapefile-parts.ts";
import { readShpShapes, type ShpShape, type ShpShapes } from "./shp-shapes.ts";
import { settledOrRefused } from "./strict.ts";
import { systemOfWkt } from "./wkt-system.ts";

/**
 * Every shapefile of a zip archive, in the archive's order; `name` is the archive's name. Nobody is asked: a doubt is an
 * InputError with the question's key as its code. Throws `no-shapefile`, and the errors of `readZip` and `readShapefile`.
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

/** `rawShapefile` with nobody to ask: a doubt is an InputError with the question's key as its code. */
export function readShapefile(parts: ShapefileParts, name: string): Layer {
  return settledOrRefused(rawShapefile(parts, name));
}

/**
 * One shapefile as a layer. `name` is the file the user chose, for messages. Z and M are dropped; a null shape stays as
 * a feature without geometry; a record marked deleted is left out with a notice; a multipoint record gives one feature
 * a point, with a notice. No .dbf, no .shx: notices.
 * Throws `no-shapes`, `ring-too-short`, `line-too-short`, `records-unlike-rows` and the errors of the parts.
 */
export function rawShapefile(parts: ShapefileParts, name: string): RawLayer {
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
  const skipped: Skipped[] = [];
  const features = shapes.flatMap((shape, index) => {
    const properties = table === undefined ? {} : table.rows[index];
    return readRecord(kind, shape, properties, index + 1, path, notices, skipped);
  });
  if (features.length === 0) {
    throw new InputError("no-shapes", `${path}: no shapes in this file`, "Choose the file with the shapes.");
  }
  return {
    name: parts.stem,
    path,
    one: "record",
    features,
    skipped,
    columns: table?.columns ?? [],
    stated: statedSystem(parts),
    encoding: table?.encoding ?? "UTF-8",
    notices,
  };
}

function statedSystem(parts: ShapefileParts): StatedSystem {
  const prjPath = `${parts.path.slice(0, -3)}prj`;
  if (parts.prj === undefined) return { system: null, why: `no ${prjPath} beside it` };
  const text = readText(parts.prj).text.trim();
  const root = readWkt(text);
  const system = root && systemOfWkt(root);
  if (system !== undefined) return { system, from: ".prj" };
  const named = root === undefined ? JSON.stringify(text.slice(0, 60)) : wktName(root);
  return { system: null, why: `the coordinate system ${named} of ${prjPath} is not known` };
}

function readRecord(
  kind: ShpShapes["kind"],
  shape: ShpShape | null,
  properties: DbfTable["rows"][number] | undefined,
  record: number,
  path: string,
  notices: Notice[],
  skipped: Skipped[],
): RawFeature[] {
  const where = `${path}, record ${record}`;
  if (properties === null || properties === undefined) {
    const message = `record ${record} is marked deleted and was skipped`;
    notices.push({ code: "deleted-record", message, where: path });
    skipped.push({ record, reason: "marked deleted" });
    return [];
  }
  const geometries = shape === null ? [null] : geometriesOf(kind, shape);
  if (geometries.length > 1) {
    const message = `record ${record} holds ${geometries.length} points; each is read with the same attributes`;
    notices.push({ code: "multipoint", message, where: path });
  }
  const features = geometries.map(
    (geometry): RawFeature => ({ record, geometry, properties: properties as Properties }),
  );
  for (const feature of features) checkRawShape(feature, where);
  return features;
}

function geometriesOf(kind: ShpShapes["kind"], shape: ShpShape): RawGeometry[] {
  if (kind === "polygon") return [{ kind, polygons: [shape], nested: false }];
  if (kind === "line") return [{ kind, parts: shape }];
  return shape.flat().map((at) => ({ kind: "point", at }));
}

function pathOf(shpPath: string, ending: string): string {
  return `${shpPath.slice(0, -3)}${ending}`;
}
