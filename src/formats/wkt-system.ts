import {
  type CoordinateSystem,
  codeOfProjection,
  type Datum,
  degreesOn,
  projectedOn,
  systemOfCode,
} from "./coordinate-system.ts";
import { plainName } from "./plain-name.ts";
import { type WktNode, wktChild, wktName } from "./read-wkt.ts";

const PROJECTIONS: Readonly<Record<string, string>> = {
  transversemercator: "tmerc",
  lambertconformalconic: "lcc",
  lambertconformalconic1sp: "lcc",
  lambertconformalconic2sp: "lcc",
  albers: "aea",
  albersconicequalarea: "aea",
  hotineobliquemercator: "omerc",
  hotineobliquemercatorazimuthcenter: "omerc",
  hotineobliquemercatorazimuthnaturalorigin: "omerc",
};
const WEB_MERCATOR = /^(mercatorauxiliarysphere|popularvisualisationpseudomercator)$/;

/**
 * The coordinate system of well-known text, its code found by its figures; undefined when its datum, projection or
 * units are none that can be turned into WGS84 degrees.
 */
export function systemOfWkt(root: WktNode): CoordinateSystem | undefined {
  if (root.keyword === "COMPD_CS" || root.keyword === "COMPOUNDCRS") {
    const flat = wktChild(root, "PROJCS", "GEOGCS", "PROJCRS", "GEOGCRS");
    return flat && systemOfWkt(flat);
  }
  if (root.keyword === "GEOGCS" || root.keyword === "GEOGCRS" || root.keyword === "GEODCRS") {
    const datum = datumOf(root);
    return datum && degreesOn(datum, statedCode(root) ?? usualDegrees(root, datum));
  }
  if (root.keyword !== "PROJCS") return undefined;
  const geographic = wktChild(root, "GEOGCS");
  const datum = geographic && datumOf(geographic);
  const projection = wktChild(root, "PROJECTION");
  const unit = Number(wktChild(root, "UNIT")?.values[1]);
  if (datum === undefined || projection === undefined || !(unit > 0)) return undefined;
  const stated = statedCode(root);
  if (WEB_MERCATOR.test(plainName(wktName(projection))) || stated === "EPSG:3857") {
    return datum === "WGS84" && unit === 1 ? systemOfCode("EPSG:3857") : undefined;
  }
  const figures = projectionText(root, plainName(wktName(projection)), unit);
  if (figures === undefined) return undefined;
  const code = stated ?? codeOfProjection(realizationOf(geographic!, datum), figures, unit) ?? wktName(root);
  return projectedOn(datum, figures, String(unit), code);
}

/** The datum, with NAD83 of 2011 apart from the first; other later ones have no code here. */
function realizationOf(geographic: WktNode, datum: Datum): Datum | "NAD83(2011)" | "other" {
  const name = plainName(wktName(wktChild(geographic, "DATUM")!));
  if (datum !== "NAD83" || /1983$/.test(name)) return datum;
  return /2011$/.test(name) ? "NAD83(2011)" : "other";
}

function usualDegrees(root: WktNode, datum: Datum): string {
  const realization = wktChild(root, "DATUM") === undefined ? datum : realizationOf(root, datum);
  if (realization === "NAD83(2011)") return "EPSG:6318";
  return realization === "other" ? wktName(root) : USUAL_DEGREES[datum];
}

const USUAL_DEGREES: Readonly<Record<Datum, string>> = {
  WGS84: "EPSG:4326",
  NAD83: "EPSG:4269",
  ETRS89: "EPSG:4258",
  NAD27: "EPSG:4267",
};
const DATUM_NAMES: readonly (readonly [RegExp, Datum, axisM: number, inverseFlattening: number])[] = [
  [/^d?(wgs1984|wgs84|worldgeodeticsystem1984)(ensemble)?$/, "WGS84", 6_378_137, 298.257_223_563],
  [/^d?(nad83|(nad|northamerican(datum)?)(of)?1983)/, "NAD83", 6_378_137, 298.257_222_101],
  [
    /^d?(etrs1989|etrs89|europeanterrestrialreferencesystem1989)(ensemble)?$/,
    "ETRS89",
    6_378_137,
    298.257_222_101,
  ],
  [/^d?(nad|northamerican(datum)?)(of)?1927$/, "NAD27", 6_378_206.4, 294.978_698_2],
];

/** The datum of degrees from Greenwich; undefined when it is another or its ellipsoid is not its own. */
function datumOf(geographic: WktNode): Datum | undefined {
  const datum = wktChild(geographic, "DATUM", "ENSEMBLE");
  const ellipsoid = datum && wktChild(datum, "SPHEROID", "ELLIPSOID");
  const axis = wktChild(geographic, "AXIS");
  const unit = wktChild(geographic, "UNIT", "ANGLEUNIT") ?? (axis && wktChild(axis, "UNIT", "ANGLEUNIT"));
  const meridian = wktChild(geographic, "PRIMEM");
  if (datum === undefined || ellipsoid === undefined || unit === undefined) return undefined;
  if (Math.abs(Number(unit.values[1]) - Math.PI / 180) > 1e-9) return undefined;
  if (meridian !== undefined && meridian.values[1] !== 0) return undefined;
  const name = plainName(wktName(datum));
  const [axisM, inverseFlattening] = [Number(ellipsoid.values[1]), Number(ellipsoid.values[2])];
  return DATUM_NAMES.find(
    ([pattern, , a, f]) =>
      pattern.test(name) && Math.abs(a - axisM) < 0.01 && Math.abs(f - inverseFlattening) < 1e-5,
  )?.[1];
}

/** The projection as proj4 takes it, lengths in metres; undefined when it is not one we know or lacks a figure. */
function projectionText(root: WktNode, name: string, unit: number): string | undefined {
  const proj = PROJECTIONS[name];
  if (proj === undefined) return undefined;
  const given = new Map<string, number>();
  for (const value of root.values) {
    if (typeof value !== "object" || value.keyword !== "PARAMETER") continue;
    given.set(plainName(wktName(value)), Number(value.values[1]));
  }
  const figure = (...names: readonly string[]) =>
    names.map((one) => given.get(one)).find((n) => n !== undefined);
  const lat = figure("latitudeoforigin", "latitudeofcenter") ?? 0;
  const lon = figure("centralmeridian", "longitudeofcenter", "longitudeoforigin");
  const [first, second] = [figure("standardparallel1"), figure("standardparallel2")];
  const k = figure("scalefactor") ?? 1;
  if (lon === undefined) return undefined;
  const parts = [`+proj=${proj}`, `+lat_0=${lat}`];
  if (proj === "omerc") {
    const azimuth = figure("azimuth");
    if (azimuth === undefined) return undefined;
    const natural = !name.endsWith("center");
    parts.push(...(natural ? ["+no_uoff"] : []), `+lonc=${lon}`, `+alpha=${azimuth}`);
    parts.push(`+gamma=${figure("rectifiedgridangle", "xyplanerotation") ?? azimuth}`, `+k=${k}`);
  } else if (proj === "tmerc") parts.push(`+lon_0=${lon}`, `+k=${k}`);
  else if (first !== undefined && second !== undefined) {
    parts.push(`+lon_0=${lon}`, `+lat_1=${first}`, `+lat_2=${second}`);
    if (k !== 1) parts.push(`+k=${k}`);
  } else if (proj === "lcc") parts.push(`+lon_0=${lon}`, `+lat_1=${first ?? lat}`, `+k=${k}`);
  else return undefined;
  const [east, north] = [figure("falseeasting") ?? 0, figure("falsenorthing") ?? 0];
  parts.push(`+x_0=${east * unit}`, `+y_0=${north * unit}`);
  return parts.every((part) => !/NaN|Infinity/.test(part)) ? parts.join(" ") : undefined;
}

/** `EPSG:n` when the node itself carries it and it is one we know. */
function statedCode(root: WktNode): string | undefined {
  const authority = wktChild(root, "AUTHORITY", "ID");
  if (authority === undefined || String(authority.values[0]).toUpperCase() !== "EPSG") return undefined;
  const code = `EPSG:${authority.values[1]}`;
  return systemOfCode(code) === undefined ? undefined : code;
}
