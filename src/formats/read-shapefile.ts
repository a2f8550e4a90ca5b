import { InputError, type Notice } from "../errors/index.ts";
import type { Skipped } from "./feature.ts";
import {
  noShapes,
  type RawFeature,
  type RawGeometry,
  type RawLayer,
  type StatedSystem,
} from "./raw-layer.ts";
import { type DbfTable, readDbf } from "./read-dbf.ts";
import { readText } from "./read-text.ts";
import { readWkt, wktName } from "./read-wkt.ts";
import type { ShapefileParts } from "./shapefile-parts.ts";
import { readShpShapes, type ShpShapes } from "./shp-shapes.ts";
import { systemOfWkt } from "./wkt-system.ts";

/** From so many vertices on shapes are made when they are asked for, each time anew, and not kept. */
const LARGE_VERTICES = 300_000;

/**
 * One shapefile as a layer. `name` is the file the user chose, for messages. Z and M are dropped; a null shape stays as
 * a feature without geometry; a record marked deleted is left out with a notice; a multipoint record gives one feature
 * a point, with a notice. No .dbf, no .shx: notices.
 * Throws `no-shapes`, `records-unlike-rows` and the errors of the parts.
 */
export function rawShapefile(parts: ShapefileParts, name: string): RawLayer {
  const path = name.endsWith(parts.path) ? name : `${name}: ${parts.path}`;
  const shapes = readShpShapes(parts.shp, parts.shx, path);
  const table = parts.dbf && readDbf(parts.dbf, parts.cpg, pathOf(path, "dbf"));
  if (table !== undefined && table.rows.length !== shapes.count) {
    throw new InputError(
      "records-unlike-rows",
      `${path} has ${shapes.count} shapes, its .dbf has ${table.rows.length} rows`,
      "Export the shapefile again; shapes and attributes no longer belong together.",
    );
  }
  const notices: Notice[] = table === undefined ? [] : [...table.notices];
  if (table === undefined) {
    const message = "no .dbf beside the .shp: the shapes are read, their names and columns are missing";
    notices.push({ code: "no-attributes", message, where: path });
  }
  if (parts.shx === undefined) {
    notices.push({ code: "no-index", message: "no index (.shx); records are read in a row", where: path });
  }
  const skipped: Skipped[] = [];
  const features: RawFeature[] = [];
  for (let index = 0; index < shapes.count; index++) {
    const properties = table === undefined ? {} : table.rows[index]!;
    for (const one of readRecord(shapes, index, properties, path, notices, skipped)) features.push(one);
  }
  if (features.length === 0) throw noShapes(path);
  return {
    name: parts.stem,
    path,
    one: "record",
    features,
    isLarge: shapes.vertices > LARGE_VERTICES,
    skipped,
    columns: table?.columns ?? [],
    stated: statedSystem(parts),
    encoding: table?.encoding ?? "UTF-8",
    notices,
  };
}

function statedSystem(parts: ShapefileParts): StatedSystem {
  const prjPath = pathOf(parts.path, "prj");
  if (parts.prj === undefined) return { system: null, why: `no ${prjPath} beside it` };
  const text = readText(parts.prj).text.trim();
  const root = readWkt(text);
  const system = root && systemOfWkt(root);
  if (system !== undefined) return { system, from: ".prj" };
  const named = root === undefined ? JSON.stringify(text.slice(0, 60)) : wktName(root);
  return { system: null, why: `the coordinate system ${named} of ${prjPath} is not known` };
}

function readRecord(
  shapes: ShpShapes,
  index: number,
  properties: DbfTable["rows"][number],
  path: string,
  notices: Notice[],
  skipped: Skipped[],
): RawFeature[] {
  const record = index + 1;
  if (properties === null) {
    const message = `record ${record} is marked deleted and was skipped`;
    notices.push({ code: "deleted-record", message, where: path });
    skipped.push({ record, reason: "marked deleted" });
    return [];
  }
  const { kind } = shapes;
  if (kind === "polygon" || kind === "line") {
    const geometryAt = (): RawGeometry | null => {
      const shape = shapes.shapeAt(index);
      if (shape === null) return null;
      return kind === "line" ? { kind, parts: shape } : { kind, polygons: [shape], nested: false };
    };
    if (shapes.vertices <= LARGE_VERTICES) return [{ record, geometry: geometryAt(), properties }];
    return [
      {
        record,
        get geometry() {
          return geometryAt();
        },
        properties,
      },
    ];
  }
  const points = shapes.shapeAt(index)?.flat() ?? [];
  if (points.length > 1) {
    const message = `record ${record} holds ${points.length} points; each is read with the same attributes`;
    notices.push({ code: "multipoint", message, where: path });
  }
  if (points.length === 0) return [{ record, geometry: null, properties }];
  return points.map((at) => ({ record, geometry: { kind: "point", at }, properties }));
}

function pathOf(shpPath: string, ending: string): string {
  return `${shpPath.slice(0, -3)}${ending}`;
}
