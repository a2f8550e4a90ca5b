import { type Point, type Ring, ringArea } from "../geo/index.ts";
import type { Feature, Geometry } from "./feature.ts";

interface GeoJsonOptions {
  /** Decimals of a degree: 9 for strips (a 10 in strip keeps its area to 0.02 %), 7 is enough for boundaries. */
  readonly decimals?: number;
  /** Which properties to write, in this order; left out, each feature's own, in its own order. */
  readonly columns?: readonly string[];
}

/**
 * A FeatureCollection by RFC 7946: longitude and latitude, outer rings counter-clockwise and holes clockwise,
 * closed, one feature a line, no bbox, UTF-8. The same features give the same bytes.
 * Throws a plain Error on a coordinate that is no degree, a number that is not finite, a missing column.
 */
export function writeGeoJson(
  features: readonly Feature[],
  options: GeoJsonOptions = {},
): Uint8Array<ArrayBuffer> {
  const scale = 10 ** (options.decimals ?? 9);
  const lines = features.map((feature) => {
    const geometry = feature.geometry === null ? "null" : geometryText(feature.geometry, scale);
    const properties = propertiesText(feature, options.columns);
    return `{"type":"Feature","properties":${properties},"geometry":${geometry}}`;
  });
  const text = `{"type":"FeatureCollection","features":[\n${lines.join(",\n")}\n]}\n`;
  return new TextEncoder().encode(text);
}

function propertiesText(feature: Feature, columns: readonly string[] | undefined): string {
  const names = columns ?? Object.keys(feature.properties);
  const members = names.map((name) => {
    const value = feature.properties[name];
    if (value === undefined) throw new Error(`feature ${feature.record} has no ${name}`);
    if (typeof value === "number" && !Number.isFinite(value)) {
      throw new Error(`feature ${feature.record}: ${name} is ${value}`);
    }
    return `${JSON.stringify(name)}:${JSON.stringify(value)}`;
  });
  return `{${members.join(",")}}`;
}

function geometryText(geometry: Geometry, scale: number): string {
  const position = (point: Point): string => positionText(point, scale);
  if (geometry.kind === "point") return `{"type":"Point","coordinates":${position(geometry.at)}}`;
  if (geometry.kind === "line") {
    const parts = geometry.parts.map((part) => `[${part.map(position).join(",")}]`);
    if (parts.length === 1) return `{"type":"LineString","coordinates":${parts[0]}}`;
    return `{"type":"MultiLineString","coordinates":[${parts.join(",")}]}`;
  }
  const polygons = geometry.polygons.map(
    (polygon) => `[${polygon.map((ring, index) => ringText(ring, index === 0, scale)).join(",")}]`,
  );
  if (polygons.length === 1) return `{"type":"Polygon","coordinates":${polygons[0]}}`;
  return `{"type":"MultiPolygon","coordinates":[${polygons.join(",")}]}`;
}

function ringText(ring: Ring, outer: boolean, scale: number): string {
  const texts = ring.map((point) => positionText(point, scale));
  const [first] = texts;
  if (first === undefined || texts.length < 3) throw new Error(`a ring of ${texts.length} positions`);
  const area = ringArea(ring);
  if (area === 0) throw new Error(`a ring without area at ${first}`);
  const right = outer ? area > 0 : area < 0;
  const ordered = right ? texts : [first, ...texts.slice(1).reverse()];
  return `[${ordered.join(",")},${first}]`;
}

function positionText([x, y]: Point, scale: number): string {
  if (!(Math.abs(x) <= 180 && Math.abs(y) <= 90)) throw new Error(`${x}, ${y} is no longitude and latitude`);
  return `[${Math.round(x * scale) / scale},${Math.round(y * scale) / scale}]`;
}
