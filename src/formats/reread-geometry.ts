import { InputError } from "../errors/index.ts";
import { type Geometry, isLonLat, orient, type Point } from "../geo/index.ts";
import { isClosed } from "./raw-layer.ts";

/** A shape as another library gives it. */
export interface RereadGeometry {
  readonly type: string;
  readonly coordinates: unknown;
}

/** What is wrong with a file that was just written; `where` names it and the record. */
export function readBackFault(where: string, what: string): InputError {
  return new InputError("read-back", `${where}: ${what}`, "Do not use the file; write it again.");
}

/** The rings of a polygon or multipolygon as they stand, closed. Throws `read-back` for another shape. */
export function closedRings({ type, coordinates }: RereadGeometry, where: string): Point[][][] {
  if (type !== "Polygon" && type !== "MultiPolygon") throw readBackFault(where, `a ${type}, not a polygon`);
  return (type === "Polygon" ? [coordinates] : coordinates) as Point[][][];
}

/** A polygon or multipolygon in the engine's convention, checked: finite, in range, closed. Throws `read-back`. */
export function polygonGeometry(shape: RereadGeometry, where: string): Geometry {
  const polygons = closedRings(shape, where).map((polygon) => polygon.map((ring) => openedRing(ring, where)));
  if (polygons.length === 0 || polygons.some((polygon) => polygon.length === 0)) {
    throw readBackFault(where, "no rings");
  }
  return { kind: "polygon", polygons: orient(polygons) };
}

function openedRing(ring: readonly Point[], where: string): Point[] {
  for (const [x, y] of ring) {
    if (!isLonLat([x, y])) throw readBackFault(where, `${x}, ${y} is no longitude and latitude`);
  }
  if (ring.length < 4) throw readBackFault(where, `a ring of ${ring.length}`);
  if (!isClosed(ring)) throw readBackFault(where, "a ring that is not closed");
  return ring.slice(0, -1).map(([x, y]) => [x, y]);
}
