import { type Geometry, isLonLat, type Point, type Ring, ringArea, WRITTEN_DECIMALS } from "../geo/index.ts";
import type { Feature } from "./feature.ts";

const SCALE = 10 ** WRITTEN_DECIMALS;

/**
 * A FeatureCollection by RFC 7946: longitude and latitude to 9 decimals, outer rings counter-clockwise and holes
 * clockwise, closed, one feature a line, each with its properties in their own order, no bbox, UTF-8. The same features
 * give the same bytes. Throws a plain Error on a coordinate that is no degree and a number that is not finite.
 */
export function writeGeoJson(features: readonly Feature[]): Uint8Array<ArrayBuffer> {
  const lines = features.map((feature) => {
    const geometry = feature.geometry === null ? "null" : geometryText(feature.geometry);
    return `{"type":"Feature","properties":${propertiesText(feature)},"geometry":${geometry}}`;
  });
  const text = `{"type":"FeatureCollection","features":[\n${lines.join(",\n")}\n]}\n`;
  return new TextEncoder().encode(text);
}

function propertiesText({ properties, record }: Feature): string {
  const members = Object.entries(properties).map(([name, value]) => {
    if (typeof value === "number" && !Number.isFinite(value)) {
      throw new Error(`feature ${record}: ${name} is ${value}`);
    }
    return `${JSON.stringify(name)}:${JSON.stringify(value)}`;
  });
  return `{${members.join(",")}}`;
}

function geometryText(geometry: Geometry): string {
  if (geometry.kind === "point") return `{"type":"Point","coordinates":${positionText(geometry.at)}}`;
  if (geometry.kind === "line") {
    const parts = geometry.parts.map((part) => `[${part.map(positionText).join(",")}]`);
    if (parts.length === 1) return `{"type":"LineString","coordinates":${parts[0]}}`;
    return `{"type":"MultiLineString","coordinates":[${parts.join(",")}]}`;
  }
  const polygons = geometry.polygons.map(
    (polygon) => `[${polygon.map((ring, index) => ringText(ring, index === 0)).join(",")}]`,
  );
  if (polygons.length === 1) return `{"type":"Polygon","coordinates":${polygons[0]}}`;
  return `{"type":"MultiPolygon","coordinates":[${polygons.join(",")}]}`;
}

function ringText(ring: Ring, outer: boolean): string {
  const texts = ring.map(positionText);
  const [first] = texts;
  if (first === undefined || texts.length < 3) throw new Error(`a ring of ${texts.length} positions`);
  const area = ringArea(ring);
  if (area === 0) throw new Error(`a ring without area at ${first}`);
  const right = outer ? area > 0 : area < 0;
  const ordered = right ? texts : [first, ...texts.slice(1).reverse()];
  return `[${ordered.join(",")},${first}]`;
}

function positionText(point: Point): string {
  if (!isLonLat(point)) throw new Error(`${point.join(", ")} is no longitude and latitude`);
  const [lon, lat] = point.map((degrees) => Math.round(degrees * SCALE) / SCALE);
  return `[${lon},${lat}]`;
}
