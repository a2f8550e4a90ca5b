import type { MultiPolygon, Point, Ring } from "#core";
import type { LonLat, LonLatRings } from "./protocol.ts";

type ToLonLat = (plane: Point) => Point;

/** A ring as the map wants it: degrees, the first vertex once more at the end. */
function closedRing(ring: Ring, toLonLat: ToLonLat): LonLat[] {
  const places = ring.map(toLonLat);
  if (places[0]) places.push(places[0]);
  return places;
}

export const polygonsInDegrees = (area: MultiPolygon, toLonLat: ToLonLat): LonLatRings[] =>
  area.map((polygon) => polygon.map((ring) => closedRing(ring, toLonLat)));

/** West, south, east, north of rings in degrees. */
export function boxOf(boundary: readonly LonLatRings[]): readonly [number, number, number, number] {
  let [west, south, east, north] = [180, 90, -180, -90];
  for (const [lon, lat] of boundary.flat(2)) {
    [west, south] = [Math.min(west, lon), Math.min(south, lat)];
    [east, north] = [Math.max(east, lon), Math.max(north, lat)];
  }
  return [west, south, east, north];
}

/** The last digit of degrees that a map can show: 1 cm. */
export const rounded = ([lon, lat]: Point): LonLat => [
  Math.round(lon * 1e7) / 1e7,
  Math.round(lat * 1e7) / 1e7,
];
