/// <reference path="./shpjs.d.ts" />
import { type Point, type Ring, ringArea } from "../geo/index.ts";
import type { Feature, Properties } from "./feature.ts";
import { polygonGeometry, type RereadGeometry, readBackFault } from "./reread-geometry.ts";
import { shapefilesIn } from "./shapefile-parts.ts";

/**
 * Reads a written shapefile (name -> bytes, one shapefile) with another library than the one that wrote it:
 * its polygons in the engine's convention, its attributes as that library gives them.
 * Because that library skips damage in silence, the counts of shapes and rows are compared with the three
 * headers, every ring's direction with the rule (outer clockwise, holes counter-clockwise), and the .prj is
 * applied and must leave degrees as they are.
 * Throws `read-back` naming the file and the record.
 */
export async function rereadShapefile(files: ReadonlyMap<string, Uint8Array>): Promise<Feature[]> {
  const { parseShp, parseDbf } = await import("shpjs");
  const [parts, more] = shapefilesIn(files, "written files");
  if (parts === undefined || more !== undefined)
    throw readBackFault("written files", "not exactly one shapefile");
  const { path, shp, shx, dbf, prj, cpg } = parts;
  if (shx === undefined || dbf === undefined || prj === undefined || cpg === undefined) {
    throw readBackFault(path, "a part is missing");
  }
  const stem = path.slice(0, -4);
  const shapes = parseShp(shp);
  const rows = parseDbf(dbf, text(cpg));
  const indexed = (shx.length - 100) / 8;
  const stated = new DataView(dbf.buffer, dbf.byteOffset, dbf.byteLength).getUint32(4, true);
  if (shapes.length === 0) throw readBackFault(path, "no shapes");
  if (shapes.length !== indexed || rows.length !== indexed || stated !== indexed) {
    const counts = `${shapes.length} shapes, ${indexed} in the index, ${rows.length} rows of ${stated}`;
    throw readBackFault(stem, `the parts disagree: ${counts}`);
  }
  checkDeletionMarks(dbf, stated, `${stem}.dbf`);
  const features = shapes.map((shape, index): Feature => {
    const where = `${path}, record ${index + 1}`;
    if (shape === null) throw readBackFault(where, "no shape");
    checkDirections(shp, shx, index, where);
    const geometry = polygonGeometry(shape as RereadGeometry, where);
    return { record: index + 1, geometry, properties: plainRow(rows[index] ?? {}, where) };
  });
  const moved = parseShp(shp.slice(0, firstRecordEnd(shp)), text(prj))[0];
  checkUnmoved(shapes[0]?.coordinates, moved?.coordinates, `${stem}.prj`);
  return features;
}

function plainRow(row: Readonly<Record<string, unknown>>, where: string): Properties {
  return Object.fromEntries(
    Object.entries(row).map(([name, value]) => {
      if (typeof value === "number" ? Number.isFinite(value) : typeof value === "string") {
        return [name, value as string | number];
      }
      throw readBackFault(where, `${name} is ${String(value)}`);
    }),
  );
}

/** The other library reads rows marked deleted as if they were not. */
function checkDeletionMarks(dbf: Uint8Array, count: number, path: string): void {
  const view = new DataView(dbf.buffer, dbf.byteOffset, dbf.byteLength);
  const [header, row] = [view.getUint16(8, true), view.getUint16(10, true)];
  for (let i = 0; i < count; i += 1) {
    if (dbf[header + i * row] !== 0x20)
      throw readBackFault(`${path}, record ${i + 1}`, "the row is marked deleted");
  }
}

/** The other library repairs rings that run the wrong way; a controller may not. */
function checkDirections(shp: Uint8Array, shx: Uint8Array, index: number, where: string): void {
  const view = new DataView(shp.buffer, shp.byteOffset, shp.byteLength);
  const at = new DataView(shx.buffer, shx.byteOffset, shx.byteLength).getInt32(100 + 8 * index) * 2 + 8;
  const parts = view.getInt32(at + 36, true);
  const points = view.getInt32(at + 40, true);
  for (let part = 0; part < parts; part += 1) {
    const start = view.getInt32(at + 44 + 4 * part, true);
    const end = part + 1 < parts ? view.getInt32(at + 48 + 4 * part, true) : points;
    const ring: Point[] = [];
    for (let i = start; i < end - 1; i += 1) {
      const place = at + 44 + 4 * parts + 16 * i;
      ring.push([view.getFloat64(place, true), view.getFloat64(place + 8, true)]);
    }
    const area = ringArea(ring as Ring);
    if (part === 0 ? !(area < 0) : !(area > 0))
      throw readBackFault(where, `ring ${part + 1} runs the wrong way`);
  }
}

function firstRecordEnd(shp: Uint8Array): number {
  return 108 + 2 * new DataView(shp.buffer, shp.byteOffset, shp.byteLength).getInt32(104);
}

function checkUnmoved(before: unknown, after: unknown, where: string): void {
  const [a, b] = [numbersIn(before), numbersIn(after)];
  const same = a.length > 0 && a.length === b.length && a.every((value, i) => Math.abs(value - b[i]!) < 1e-9);
  if (!same) throw readBackFault(where, "this is not WGS84 in degrees");
}

function numbersIn(coordinates: unknown): number[] {
  return [coordinates].flat(4) as number[];
}

function text(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
