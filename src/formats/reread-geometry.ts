import type { InputError } from "../errors/index.ts";
import { orient, type Point } from "../geo/index.ts";
import type { Geometry } from "./feature.ts";

export interface RereadGeometry {
  readonly type: string;
  readonly coordinates: unknown;
}

/** A polygon or multipolygon as another library gives it, checked (finite, in range, closed) and brought into the
 * engine's convention. `fault` makes the error. */
export function polygonGeometry(shape: RereadGeometry, fault: (what: string) => InputError): Geometry {
  const { type, coordinates } = shape;
  if (type !== "Polygon" && type !== "MultiPolygon") throw fault(`a ${type}, not a polygon`);
  const closed = (type === "Polygon" ? [coordinates] : coordinates) as Point[][][];
  const polygons = closed.map((polygon) => polygon.map((ring) => openRing(ring, fault)));
  if (polygons.length === 0 || polygons.some((polygon) => polygon.length === 0)) throw fault("no rings");
  return { kind: "polygon", polygons: orient(polygons) };
}

function openRing(ring: readonly Point[], fault: (what: string) => InputError): Point[] {
  for (const [x, y] of ring) {
    if (!(Math.abs(x) <= 180 && Math.abs(y) <= 90)) throw fault(`${x}, ${y} is no longitude and latitude`);
  }
  const [first, last] = [ring[0], ring.at(-1)];
  if (first === undefined || last === undefined || ring.length < 4) throw fault(`a ring of ${ring.length}`);
  if (first[0] !== last[0] || first[1] !== last[1]) throw fault("a ring that is not closed");
  return ring.slice(0, -1).map(([x, y]) => [x, y]);
}
