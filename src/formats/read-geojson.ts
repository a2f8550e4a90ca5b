import { InputError, type Notice } from "../errors/index.ts";
import { CRS84, systemOfCode } from "./coordinate-system.ts";
import { columnsOf, fileStem, type Properties, type Value } from "./feature.ts";
import { collectShapes, type GeoJsonShapes, geometriesOf, notGeoJson } from "./geojson-geometry.ts";
import { jsonDepth } from "./json-depth.ts";
import { leftOutShapes } from "./left-out-shapes.ts";
import { noShapes, type RawFeature, type RawLayer, type StatedSystem } from "./raw-layer.ts";
import { readText } from "./read-text.ts";

const DEEPEST = 100;

/**
 * A GeoJSON text (RFC 7946): a FeatureCollection, a Feature, a bare geometry, or one Feature a line (common practice);
 * `name` is the file's name.
 * Features are numbered from 1. A multipoint gives one feature a point. A collection of several kinds gives its
 * polygons, or else its lines; the rest is left out with a notice. Objects and lists among the properties become their
 * JSON text; a number too large to hold is null with a notice. The crs member that older files have is read.
 * Throws `not-json`, `too-deep`, `not-geojson`, `no-shapes`, `bad-coordinate`.
 */
export function rawGeoJson(bytes: Uint8Array, name: string): RawLayer {
  const { text, encoding } = readText(bytes);
  const root = parse(text, name);
  const notices: Notice[] = [];
  if (encoding !== "UTF-8") {
    notices.push({ code: "not-utf-8", message: `read as ${encoding}; GeoJSON should be UTF-8`, where: name });
  }
  const stated = statedSystem(root, name, notices);
  const features = rawFeatures(root, name).flatMap((raw, index) =>
    readFeature(raw, index + 1, name, notices),
  );
  if (features.length === 0) throw noShapes(name);
  return {
    name: fileStem(name),
    path: name,
    one: "feature",
    features,
    skipped: [],
    columns: columnsOf(features),
    stated,
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
  if (typeof root.type !== "string") throw notGeoJson(name, "an object without a type is no GeoJSON");
  return [{ type: "Feature", properties: null, geometry: root }];
}

function readFeature(raw: unknown, record: number, name: string, notices: Notice[]): RawFeature[] {
  const where = `${name}, feature ${record}`;
  if (!isObject(raw) || raw.type !== "Feature") throw notGeoJson(where, "this is not a Feature");
  const properties = readProperties(raw.properties, where, notices);
  if (raw.geometry === null || raw.geometry === undefined) return [{ record, geometry: null, properties }];
  const shapes: GeoJsonShapes = { points: [], lines: [], polygons: [] };
  collectShapes(raw.geometry, where, shapes);
  notices.push(...leftOutShapes(shapes, where));
  const geometries = geometriesOf(shapes);
  if (geometries.length === 0) return [{ record, geometry: null, properties }];
  return geometries.map((geometry) => ({ record, geometry, properties }));
}

function readProperties(raw: unknown, where: string, notices: Notice[]): Properties {
  if (raw === null || raw === undefined) return {};
  if (!isObject(raw)) throw notGeoJson(where, "the properties are not an object");
  return Object.fromEntries(
    Object.entries(raw).map(([key, value]): [string, Value] => {
      if (typeof value === "object" && value !== null) return [key, JSON.stringify(value)];
      if (value !== Infinity && value !== -Infinity) return [key, value as Value];
      const message = `${key} is a number too large to be read; it counts as no value`;
      notices.push({ code: "unreadable-value", message, where });
      return [key, null];
    }),
  );
}

function statedSystem(root: Record<string, unknown>, name: string, notices: Notice[]): StatedSystem {
  const { crs } = root;
  if (crs === undefined || crs === null) return { system: CRS84, from: "standard" };
  const properties = isObject(crs) ? crs.properties : undefined;
  const stated = isObject(properties) ? String(properties.name) : JSON.stringify(crs).slice(0, 80);
  const code = /\b(CRS84)$/i.exec(stated)?.[1] ?? /\bEPSG:(?:[\d.]*:)?(\d+)$/i.exec(stated)?.[1];
  const system = code === undefined ? undefined : systemOfCode(code);
  if (system === undefined)
    return { system: null, why: `the coordinate system ${stated} of the crs member is not known` };
  // GeoJSON's order is longitude, latitude whatever the code says, in old files too (common practice).
  if (system.code === "EPSG:4326") return { system: CRS84, from: "crs member" };
  const message = `the file's crs member, which the standard no longer has, says ${system.code}; it was read so`;
  notices.push({ code: "crs-member", message, where: name });
  return { system, from: "crs member" };
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
