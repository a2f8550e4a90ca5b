import { InputError } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { readShpHeader, type ShpHeader } from "./shp-header.ts";

/** One record's vertices as they stand in the file: a part a point, line or ring; rings still closed. */
type ShpShape = readonly (readonly Point[])[];

export interface ShpShapes {
  readonly kind: ShpHeader["kind"];
  /** Records in the file. */
  readonly count: number;
  /** Vertices of all records together. */
  readonly vertices: number;
  /** The shape of record `index + 1`, made from the bytes anew each time; null for a null shape. */
  shapeAt(index: number): ShpShape | null;
}

/**
 * The shapes of a .shp file, Z and M dropped. With a .shx the records are taken from where it says they are,
 * and its lengths must agree; without one they must follow each other. Every count and coordinate is checked against the
 * bytes at hand before anything is made from it.
 * Throws `not-a-shapefile`, `file-cut-short`, `shape-type-not-read`, `shapefile-damaged`, `bad-coordinate`.
 */
export function readShpShapes(shp: Uint8Array, shx: Uint8Array | undefined, path: string): ShpShapes {
  const view = viewOf(shp);
  const header = readShpHeader(view, path);
  const offsets =
    shx === undefined ? walkedOffsets(view, path) : indexedOffsets(view, shx, header.type, path);
  let vertices = 0;
  offsets.forEach((offset, index) => {
    const places = placesOf(view, offset, index + 1, header, path);
    if (places === null) return;
    requireFinite(view, places, `${path}, record ${index + 1}`);
    vertices += places.points;
  });
  return {
    kind: header.kind,
    count: offsets.length,
    vertices,
    shapeAt: (index) => {
      const places = placesOf(view, offsets[index]!, index + 1, header, path);
      return places === null ? null : shapeOf(view, places);
    },
  };
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function walkedOffsets(view: DataView, path: string): number[] {
  const offsets: number[] = [];
  let at = 100;
  while (at < view.byteLength) {
    offsets.push(at);
    at += 8 + contentLength(view, at, offsets.length, path);
  }
  return offsets;
}

function indexedOffsets(view: DataView, shx: Uint8Array, type: number, path: string): number[] {
  const index = viewOf(shx);
  const indexPath = path.replace(/p$/i, (p) => (p === "P" ? "X" : "x"));
  if (readShpHeader(index, indexPath).type !== type) {
    throw damaged(path, `${indexPath} belongs to another shapefile: the shape types differ`);
  }
  if ((shx.length - 100) % 8 !== 0) throw damaged(path, `${indexPath} ends inside a record`);
  const offsets: number[] = [];
  for (let at = 100; at < shx.length; at += 8) {
    const record = offsets.length + 1;
    const offset = index.getInt32(at) * 2;
    if (offset < 100 || offset + 8 > view.byteLength) {
      throw damaged(path, `${indexPath} puts record ${record} outside the file`);
    }
    if (contentLength(view, offset, record, path) !== index.getInt32(at + 4) * 2) {
      throw damaged(path, `${indexPath} and ${path} disagree about the length of record ${record}`);
    }
    offsets.push(offset);
  }
  return offsets;
}

/** Bytes of a record's content, which lies inside the file and holds at least the shape type. */
function contentLength(view: DataView, offset: number, record: number, path: string): number {
  const inside = offset + 8 <= view.byteLength;
  const length = inside ? view.getInt32(offset + 4) * 2 : -1;
  if (length < 4 || offset + 8 + length > view.byteLength) {
    throw damaged(path, `record ${record} reaches beyond the end of the file or is empty`);
  }
  if (view.getInt32(offset) !== record) {
    throw damaged(path, `record ${record} carries the number ${view.getInt32(offset)}`);
  }
  return length;
}

/** Where the vertices of a record stand: its parts' first vertices, how many there are, and the byte of the first. */
interface Places {
  readonly starts: readonly number[];
  readonly points: number;
  readonly from: number;
}

/** The places of a record whose counts fit its length; null for a null shape. */
function placesOf(
  view: DataView,
  offset: number,
  record: number,
  header: ShpHeader,
  path: string,
): Places | null {
  const at = offset + 8;
  const length = view.getInt32(offset + 4) * 2;
  const type = view.getInt32(at, true);
  if (type === 0) return null;
  if (type !== header.type) throw damaged(path, `record ${record} is of type ${type}, not ${header.type}`);
  const zm = header.type >= 20 ? "m" : header.type >= 10 ? "z" : "";
  if (header.kind === "point") {
    const fits = length === 20 || (zm !== "" && length === 28) || (zm === "z" && length === 36);
    if (!fits) throw damaged(path, `record ${record} has the wrong length`);
    return { starts: [0], points: 1, from: at + 4 };
  }
  const many = header.kind === "multipoint";
  const fixed = many ? 40 : 44;
  const counted = length >= fixed;
  const parts = counted && !many ? view.getInt32(at + 36, true) : 0;
  const points = counted ? view.getInt32(at + fixed - 4, true) : -1;
  const flat = fixed + 4 * parts + 16 * points;
  const extra = 16 + 8 * points;
  const allowed = zm === "z" ? [flat + extra, flat + 2 * extra] : zm === "m" ? [flat, flat + extra] : [flat];
  if (parts < 0 || points < 0 || !allowed.includes(length)) {
    throw damaged(path, `record ${record} states counts that its length does not fit`);
  }
  if (points === 0) return null;
  const starts = many ? [0] : partStarts(view, at + 44, parts, points, record, path);
  return { starts, points, from: at + fixed + 4 * parts };
}

function requireFinite(view: DataView, { from, points }: Places, where: string): void {
  for (let at = from; at < from + 16 * points; at += 16) {
    const [x, y] = [view.getFloat64(at, true), view.getFloat64(at + 8, true)];
    if (Number.isFinite(x) && Number.isFinite(y)) continue;
    const message = `${where}: ${x}, ${y} is no position`;
    throw new InputError("bad-coordinate", message, "Export the shapefile again.");
  }
}

function shapeOf(view: DataView, { starts, points, from }: Places): ShpShape {
  return starts.map((start, part) => {
    const end = from + 16 * (starts[part + 1] ?? points);
    const vertices: Point[] = [];
    for (let at = from + 16 * start; at < end; at += 16) {
      vertices.push([view.getFloat64(at, true), view.getFloat64(at + 8, true)]);
    }
    return vertices;
  });
}

function partStarts(
  view: DataView,
  at: number,
  parts: number,
  points: number,
  record: number,
  path: string,
): number[] {
  const starts = Array.from({ length: parts }, (_, part) => view.getInt32(at + 4 * part, true));
  const rising = starts.every((start, part) => start > (part === 0 ? -1 : (starts[part - 1] ?? 0)));
  if (starts[0] !== 0 || !rising || (starts.at(-1) ?? 0) >= points) {
    throw damaged(path, `the parts of record ${record} do not begin one after the other`);
  }
  return starts;
}

function damaged(path: string, what: string): InputError {
  return new InputError("shapefile-damaged", `${path}: ${what}`, "Copy or export the shapefile again.");
}
