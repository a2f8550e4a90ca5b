import { isLonLat, type Polygon, type Ring, ringArea } from "../geo/index.ts";
import { LARGEST_PART } from "./shapefile-parts.ts";

interface ShpAndIndex {
  readonly shp: Uint8Array<ArrayBuffer>;
  readonly shx: Uint8Array<ArrayBuffer>;
}

const HEADER = 100;

/**
 * The .shp and .shx of polygons in longitude and latitude, a record a polygon, in order (ESRI Shapefile Technical
 * Description, July 1998). Rings are closed; outer rings run clockwise and holes counter-clockwise, whatever
 * way they came. Throws a plain Error on no polygons, a ring without area, a coordinate that is no degree.
 */
export function writeShp(polygons: readonly Polygon[]): ShpAndIndex {
  const total = shpBytes(polygons);
  if (polygons.length === 0) throw new Error("a shapefile needs at least one polygon");
  if (total > LARGEST_PART) throw new Error(`a .shp of ${total} bytes is too big`);
  const shp = new Uint8Array(total);
  const shx = new Uint8Array(HEADER + 8 * polygons.length);
  const view = new DataView(shp.buffer);
  const index = new DataView(shx.buffer);
  const whole = emptyBox();
  let at = HEADER;
  polygons.forEach((polygon, i) => {
    const length = contentLength(polygon);
    index.setInt32(HEADER + 8 * i, at / 2);
    index.setInt32(HEADER + 8 * i + 4, length / 2);
    view.setInt32(at, i + 1);
    view.setInt32(at + 4, length / 2);
    writeRecord(view, at + 8, polygon, whole);
    at += 8 + length;
  });
  writeHeader(view, whole);
  writeHeader(index, whole);
  return { shp, shx };
}

/** Bytes of a .shp of such polygons, one a record. */
export const shpBytes = (polygons: readonly Polygon[]): number =>
  polygons.reduce((sum, polygon) => sum + 8 + contentLength(polygon), HEADER);

/** West, south, east, north. */
type Box = [number, number, number, number];

function emptyBox(): Box {
  return [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
}

/** Bytes of a record without its head: a ring takes 4 and 16 a vertex, the closing one counted. */
function contentLength(polygon: Polygon): number {
  const points = polygon.reduce((sum, ring) => sum + ring.length + 1, 0);
  return 44 + 4 * polygon.length + 16 * points;
}

function writeRecord(view: DataView, at: number, polygon: Polygon, whole: Box): void {
  const box = emptyBox();
  view.setInt32(at, 5, true);
  view.setInt32(at + 36, polygon.length, true);
  let point = 0;
  const from = at + 44 + 4 * polygon.length;
  polygon.forEach((ring, part) => {
    view.setInt32(at + 44 + 4 * part, point, true);
    const area = ringArea(ring);
    if (ring.length < 3 || area === 0) throw new Error(`a ring of ${ring.length} vertices without area`);
    const asGiven = part === 0 ? area < 0 : area > 0;
    writeRing(view, from + 16 * point, ring, asGiven, box);
    point += ring.length + 1;
  });
  view.setInt32(at + 40, point, true);
  box.forEach((value, i) => {
    view.setFloat64(at + 4 + 8 * i, value, true);
  });
  whole[0] = Math.min(whole[0], box[0]);
  whole[1] = Math.min(whole[1], box[1]);
  whole[2] = Math.max(whole[2], box[2]);
  whole[3] = Math.max(whole[3], box[3]);
}

/** Writes a ring closed, beginning at its first vertex, forward or backward. */
function writeRing(view: DataView, at: number, ring: Ring, forward: boolean, box: Box): void {
  const n = ring.length;
  for (let i = 0; i <= n; i += 1) {
    const point = ring[forward ? i % n : (n - i) % n]!;
    if (!isLonLat(point)) throw new Error(`${point.join(", ")} is no longitude and latitude`);
    const [x, y] = point;
    view.setFloat64(at + 16 * i, x, true);
    view.setFloat64(at + 16 * i + 8, y, true);
    if (x < box[0]) box[0] = x;
    if (y < box[1]) box[1] = y;
    if (x > box[2]) box[2] = x;
    if (y > box[3]) box[3] = y;
  }
}

function writeHeader(view: DataView, box: Box): void {
  view.setInt32(0, 9994);
  view.setInt32(24, view.byteLength / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, 5, true);
  box.forEach((value, i) => {
    view.setFloat64(36 + 8 * i, value, true);
  });
}
