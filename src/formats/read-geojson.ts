import { InputError, type Notice } from "../errors/index.ts";
import { checkDegrees } from "./check-degrees.ts";
import {
  type CoordinateSystemFrom,
  columnsOf,
  type Feature,
  type Layer,
  type Properties,
  stemOf,
  type Value,
} from "./feature.ts";
import { collectShapes, type GeoJsonShapes, geometriesOf, notGeoJson } from "./geojson-geometry.ts";
import { jsonDepth } from "./json-depth.ts";
import { readText } from "./read-text.ts";

const DEEPEST = 100;

/**
 * A GeoJSON text (RFC 7946): a FeatureCollection, a Feature, a bare geometry, or one Feature a line (common practice);
 * `name` is the file's name.
 * Features are numbered from 1. Rings in the wrong direction are turned. A multipoint gives one feature a point.
 * A collection of several kinds gives its polygons, or else its lines; the rest is left out with a notice.
 * Objects and lists among the properties become their JSON text.
 * Throws `not-json`, `too-deep`, `not-geojson`, `no-shapes`, `bad-coordinate`, `close-ring`, `ring-too-short`,
 * `line-too-short`, `swap-lon-lat`, `coordinate-system`, `not-read-yet`.
 */
export function readGeoJson(bytes: Uint8Array, name: string): Layer {
  const { text, encoding } = readText(bytes);
  const root = parse(text, name);
  const coordinateSystem = statedSystem(root, name);
  const notices: Notice[] = [];
  if (encoding !== "UTF-8") {
    notices.push({ code: "not-utf-8", message: `read as ${encoding}; GeoJSON should be UTF-8`, where: name });
  }
  const features = rawFeatures(root, name).flatMap((raw, index) =>
    readFeature(raw, index + 1, name, notices),
  );
  if (features.length === 0) {
    throw new InputError("no-shapes", `${name}: no shapes in this file`, "Choose the file with the shapes.");
  }
  checkDegrees(features, name, "feature");
  return {
    name: stemOf(name),
    features,
    columns: columnsOf(features),
    ...coordinateSystem,
    encoding,
    notices,
  };
}

function parse(text: string, name: string): Record<string, unknown> {
  if (jsonDepth(text) > DEEPEST) {
    const message = `${name}: lists and objects are nested more than ${DEEPEST} deep`;
    throw new InputError("too-deep", message, "Export the file again as plain GeoJSON.");
  }
  const root = parseLines(text, name) ?? parseJson(text, name);
  if (isObject(root)) return root;
  throw notGeoJson(name, "the file does not hold a GeoJSON object");
}

/** Features written one a line without a list around them; undefined when the first line is no whole object. */
function parseLines(text: string, name: string): unknown {
  const lines = text.split(/\r?\n/).map((line, index) => ({ line: line.trim(), index }));
  const full = lines.filter(({ line }) => line !== "");
  const [first] = full;
  if (first === undefined || full.length < 2 || !/^\{.*\}$/.test(first.line)) return undefined;
  const features = full.map(({ line, index }) => parseJson(line, `${name}, line ${index + 1}`));
  return { type: "FeatureCollection", features };
}

function parseJson(text: string, where: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const message = `${where} is not JSON: ${error instanceof Error ? error.message : String(error)}`;
    throw new InputError("not-json", message, "Export the file again; it may have been cut short.");
  }
}

function rawFeatures(root: Record<string, unknown>, name: string): readonly unknown[] {
  if (root.type === "FeatureCollection") {
    if (Array.isArray(root.features)) return root.features;
    throw notGeoJson(name, "a FeatureCollection without a list of features");
  }
  if (root.type === "Feature") return [root];
  return [{ type: "Feature", properties: null, geometry: root }];
}

function readFeature(raw: unknown, record: number, name: string, notices: Notice[]): Feature[] {
  const where = `${name}, feature ${record}`;
  if (!isObject(raw) || raw.type !== "Feature") throw notGeoJson(where, "this is not a Feature");
  const properties = readProperties(raw.properties, where);
  if (raw.geometry === null || raw.geometry === undefined) return [{ record, geometry: null, properties }];
  const shapes: GeoJsonShapes = { points: [], lines: [], polygons: [] };
  collectShapes(raw.geometry, where, shapes);
  notices.push(...leftOut(shapes, where));
  const geometries = geometriesOf(shapes);
  if (geometries.length === 0) return [{ record, geometry: null, properties }];
  return geometries.map((geometry) => ({ record, geometry, properties }));
}

function leftOut(shapes: GeoJsonShapes, where: string): Notice[] {
  const counts: [number, string][] = [];
  if (shapes.polygons.length > 0) counts.push([shapes.lines.length, "line"]);
  if (shapes.polygons.length + shapes.lines.length > 0) counts.push([shapes.points.length, "point"]);
  const words = counts.filter(([n]) => n > 0).map(([n, kind]) => (n === 1 ? `a ${kind}` : `${n} ${kind}s`));
  if (words.length === 0) return [];
  const kept = shapes.polygons.length > 0 ? "polygons" : "lines";
  const was = words.length > 1 || !words[0]?.startsWith("a ") ? "were" : "was";
  const message = `${words.join(" and ")} ${was} ignored; the ${kept} of this feature are read`;
  return [{ code: "shape-ignored", message, where }];
}

function readProperties(raw: unknown, where: string): Properties {
  if (raw === null || raw === undefined) return {};
  if (!isObject(raw)) throw notGeoJson(where, "the properties are not an object");
  return Object.fromEntries(Object.entries(raw).map(([key, value]) => [key, plainValue(value)]));
}

function plainValue(value: unknown): Value {
  if (typeof value === "object" && value !== null) return JSON.stringify(value);
  return value as Value;
}

function statedSystem(
  root: Record<string, unknown>,
  name: string,
): { coordinateSystem: string; coordinateSystemFrom: CoordinateSystemFrom } {
  const { crs } = root;
  if (crs === undefined || crs === null) {
    return { coordinateSystem: "OGC:CRS84", coordinateSystemFrom: "standard" };
  }
  const properties = isObject(crs) ? crs.properties : undefined;
  const stated = isObject(properties) ? String(properties.name) : JSON.stringify(crs);
  if (/\bCRS84$/i.test(stated) || /\bEPSG:.*\b4326$/i.test(stated)) {
    return { coordinateSystem: "OGC:CRS84", coordinateSystemFrom: "crs member" };
  }
  throw new InputError(
    "not-read-yet",
    `${name}: the coordinate system ${stated} is not read yet`,
    "Export the file in WGS84 longitude and latitude.",
  );
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
