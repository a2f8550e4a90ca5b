import { InputError, type Notice } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { CRS84 } from "./coordinate-system.ts";
import { columnsOf, fileStem, type Properties } from "./feature.ts";
import { type GeoJsonShapes, geometriesOf } from "./geojson-geometry.ts";
import { leftOutShapes } from "./left-out-shapes.ts";
import { noShapes, type RawFeature, type RawLayer } from "./raw-layer.ts";
import { readXml, type XmlElement, xmlAttribute, xmlBelow, xmlChild, xmlTextOf } from "./read-xml.ts";

const LINKS = /^(NetworkLink|GroundOverlay|ScreenOverlay|PhotoOverlay)$/i;
const NOT_READ = /^(Track|MultiTrack|Model|Tour)$/i;

/**
 * The placemarks of a KML text (OGC 07-147r2), with or without its namespace, numbered from 1; `name` is the file's name.
 * Heights are dropped. Name, description and extended data become texts. Links to other files are named and never
 * followed. Throws what `readXml` throws, `not-kml`, `no-shapes`, `bad-coordinate`.
 */
export function rawKml(bytes: Uint8Array, name: string): RawLayer {
  const root = readXml(bytes, name);
  if (!/^kml$/i.test(root.name) && !/^(Document|Folder|Placemark)$/i.test(root.name)) {
    throw new InputError(
      "not-kml",
      `${name}: <${root.name.slice(0, 40)}> is no KML`,
      "Export the file again as KML.",
    );
  }
  const notices: Notice[] = [];
  const links = [...below(root, LINKS)];
  if (links.length > 0) {
    const named = [...new Set(links.map((link) => link.name))].join(", ");
    const message = `${links.length === 1 ? "a link" : `${links.length} links`} to another file (${named}) ignored; nothing is fetched`;
    notices.push({ code: "link-ignored", message, where: name });
  }
  const placemarks = /^Placemark$/i.test(root.name) ? [root] : xmlBelow(root, "Placemark");
  const features = placemarks.flatMap((placemark, index) =>
    readPlacemark(placemark, index + 1, name, notices),
  );
  if (features.length === 0) throw noShapes(name);
  return {
    name: fileStem(name),
    path: name,
    one: "feature",
    features,
    skipped: [],
    columns: columnsOf(features),
    stated: { system: CRS84, from: "standard" },
    encoding: "UTF-8",
    notices,
  };
}

function* below(element: XmlElement, pattern: RegExp): Generator<XmlElement> {
  for (const child of element.children) {
    if (pattern.test(child.name)) yield child;
    else yield* below(child, pattern);
  }
}

function readPlacemark(placemark: XmlElement, record: number, name: string, notices: Notice[]): RawFeature[] {
  const where = `${name}, feature ${record}`;
  const shapes: GeoJsonShapes = { points: [], lines: [], polygons: [] };
  collect(placemark, where, shapes);
  for (const { name: kind } of below(placemark, NOT_READ)) {
    notices.push({ code: "shape-ignored", message: `a ${kind} was ignored`, where });
  }
  notices.push(...leftOutShapes(shapes, where));
  const properties = propertiesOf(placemark);
  const geometries = geometriesOf(shapes);
  if (geometries.length === 0) return [{ record, geometry: null, properties }];
  return geometries.map((geometry) => ({ record, geometry, properties }));
}

function collect(element: XmlElement, where: string, shapes: GeoJsonShapes): void {
  for (const child of element.children) {
    const kind = child.name.toLowerCase();
    if (kind === "multigeometry") collect(child, where, shapes);
    else if (kind === "point") {
      const [first] = positions(child, where);
      if (first !== undefined) shapes.points.push(first);
    } else if (kind === "linestring") shapes.lines.push(positions(child, where));
    else if (kind === "linearring") shapes.polygons.push([positions(child, where)]);
    else if (kind === "polygon") {
      const outer = xmlChild(child, "outerBoundaryIs");
      if (outer === undefined) continue;
      const holes = child.children.filter((one) => /^innerBoundaryIs$/i.test(one.name));
      const rings = [outer, ...holes].flatMap((border) => xmlBelow(border, "LinearRing"));
      if (rings.length > 0) shapes.polygons.push(rings.map((ring) => positions(ring, where)));
    }
  }
}

/** Tuples are separated by blanks, their numbers by commas alone. */
function positions(element: XmlElement, where: string): Point[] {
  const text = xmlTextOf(element, "coordinates");
  if (text === "") return [];
  return text.split(/\s+/).map((tuple) => {
    const [lon, lat] = tuple.split(",").map((part) => (part === "" ? Number.NaN : Number(part)));
    if (Number.isFinite(lon) && Number.isFinite(lat)) return [lon!, lat!];
    throw new InputError(
      "bad-coordinate",
      `${where}: ${JSON.stringify(tuple.slice(0, 60))} is no longitude,latitude`,
      "Export the file again; coordinates are longitude,latitude pairs with blanks between them.",
    );
  });
}

function propertiesOf(placemark: XmlElement): Properties {
  const found = new Map<string, string | null>();
  const add = (key: string, text: string) => {
    if (key !== "" && !found.has(key)) found.set(key, text === "" ? null : text);
  };
  for (const key of ["name", "description"]) {
    if (xmlChild(placemark, key) !== undefined) add(key, xmlTextOf(placemark, key));
  }
  for (const data of xmlBelow(placemark, "Data")) add(xmlAttribute(data, "name"), xmlTextOf(data, "value"));
  for (const data of xmlBelow(placemark, "SimpleData")) add(xmlAttribute(data, "name"), data.text);
  return Object.fromEntries(found);
}
