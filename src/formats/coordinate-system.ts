import proj4 from "proj4";
import type { Point } from "../geo/index.ts";
import { M_PER_FT } from "../units/index.ts";
import statePlane from "./state-plane.json" with { type: "json" };

/** Families of datums. NAD83 and ETRS89 are taken as WGS84, from which they differ by 1-2 m; NAD27 is shifted. */
export type Datum = "WGS84" | "NAD83" | "ETRS89" | "NAD27";

/** A coordinate system that can be turned into WGS84 longitude and latitude. */
export interface CoordinateSystem {
  /** `EPSG:26915`, `OGC:CRS84`; the file's own name where no code is known. */
  readonly code: string;
  readonly datum: Datum;
  /** Whether its numbers are degrees. */
  readonly isDegrees: boolean;
  toLonLat(point: Point): Point;
}

/**
 * Ellipsoid and shift. NAD27: mean of the contiguous United States, -8 160 176 m (DMA Technical Report 8350.2, from
 * memory); NAD83 and ETRS89: none.
 */
const DATUMS: Readonly<Record<Datum, string>> = {
  WGS84: "+datum=WGS84",
  NAD83: "+ellps=GRS80 +towgs84=0,0,0",
  ETRS89: "+ellps=GRS80 +towgs84=0,0,0",
  NAD27: "+ellps=clrk66 +towgs84=-8,160,176",
};
const WEB_MERCATOR =
  "+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null +no_defs";
/** Codes of longitude and latitude in degrees. */
const DEGREES: Readonly<Record<number, Datum>> = {
  4326: "WGS84",
  4979: "WGS84",
  4269: "NAD83",
  4152: "NAD83",
  4617: "NAD83",
  6318: "NAD83",
  4258: "ETRS89",
  4267: "NAD27",
};
/** Code of UTM zone 0 north of each datum; zone numbers are added. EPSG registry. */
const UTM: readonly (readonly [zero: number, from: number, to: number, datum: Datum, south: boolean])[] = [
  [32600, 1, 60, "WGS84", false],
  [32700, 1, 60, "WGS84", true],
  [26900, 1, 23, "NAD83", false],
  [6329, 1, 19, "NAD83", false],
  [25800, 28, 38, "ETRS89", false],
  [26700, 1, 22, "NAD27", false],
];
const CONUS_ALBERS = "m +proj=aea +lat_0=23 +lon_0=-96 +lat_1=29.5 +lat_2=45.5 +x_0=0 +y_0=0";

/** The projections listed one by one, all of NAD83, by their code: the unit of their coordinates, and the rest. */
const LISTED: ReadonlyMap<string, { readonly unit: string; readonly projection: string }> = new Map(
  Object.entries({ ...statePlane, 5070: CONUS_ALBERS }).map(([code, text]) => {
    const blank = text.indexOf(" ");
    return [code, { unit: text.slice(0, blank), projection: text.slice(blank + 1) }];
  }),
);

/** Degrees in a datum. */
export function degreesOn(datum: Datum, code: string): CoordinateSystem {
  if (datum !== "NAD27") return { code, datum, isDegrees: true, toLonLat: (point) => point };
  return { code, datum, isDegrees: true, toLonLat: inverseOf(`+proj=longlat ${DATUMS[datum]} +no_defs`) };
}

/** Longitude and latitude in that order, as GeoJSON and KML have it. */
export const CRS84: CoordinateSystem = degreesOn("WGS84", "OGC:CRS84");

/** A projection, as `+proj=...` with degrees and metres; `unit` is that of its coordinates, in metres or by name. */
export function projectedOn(datum: Datum, projection: string, unit: string, code: string): CoordinateSystem {
  const units = /^\d/.test(unit) ? `+to_meter=${unit}` : `+units=${unit}`;
  const toLonLat = inverseOf(`${projection} ${DATUMS[datum]} ${units} +no_defs`);
  return { code, datum, isDegrees: false, toLonLat };
}

/** `EPSG:26915` or `26915`: degrees of the usual datums, UTM, state planes of NAD83, Web Mercator; else undefined. */
export function systemOfCode(text: string): CoordinateSystem | undefined {
  const plain = text.trim().replace(/^(OGC:)?CRS84$/i, "4326");
  const digits = /^(?:EPSG:{1,2})?(\d{4,6})$/i.exec(plain)?.[1];
  if (digits === undefined) return undefined;
  const number = Number(digits);
  const code = `EPSG:${number}`;
  const datum = DEGREES[number];
  if (datum !== undefined) return degreesOn(datum, code);
  if ([3857, 900913, 102100, 102113, 3785].includes(number)) {
    return { code: "EPSG:3857", datum: "WGS84", isDegrees: false, toLonLat: inverseOf(WEB_MERCATOR) };
  }
  for (const [zero, from, to, utmDatum, south] of UTM) {
    const zone = number - zero;
    if (zone < from || zone > to) continue;
    return projectedOn(utmDatum, utmProjection(zone, south), "m", code);
  }
  const listed = LISTED.get(String(number));
  return listed && projectedOn("NAD83", listed.projection, listed.unit, code);
}

/** Code of a projection that the registry lists, by its figures and not by its name; undefined when it is not there. */
export function codeOfProjection(
  datum: Datum | "NAD83(2011)" | "other",
  projection: string,
  metresPerUnit: number,
): string | undefined {
  const figures = figuresOf(projection);
  for (const [zero, from, to, utmDatum, south] of UTM) {
    const realization = zero === 6329 ? "NAD83(2011)" : utmDatum;
    if (realization !== datum || Math.abs(metresPerUnit - 1) > 1e-9) continue;
    for (let zone = from; zone <= to; zone++) {
      if (figuresOf(utmProjection(zone, south)) === figures) return `EPSG:${zero + zone}`;
    }
  }
  if (datum !== "NAD83") return undefined;
  const unit = UNITS.find(([, metres]) => Math.abs(metres - metresPerUnit) < 1e-9)?.[0];
  const found = [...LISTED].find(
    ([, listed]) => listed.unit === unit && figuresOf(listed.projection) === figures,
  );
  return found && `EPSG:${found[0]}`;
}

/** Units of projected coordinates by name, m. The survey foot is 1200/3937 m (NIST/NOAA, Federal Register 85 (193), p. 62698). */
const UNITS: readonly (readonly [string, number])[] = [
  ["m", 1],
  ["us-ft", 1200 / 3937],
  ["ft", M_PER_FT],
];

function utmProjection(zone: number, south: boolean): string {
  const northing = south ? 10_000_000 : 0;
  return `+proj=tmerc +lat_0=0 +lon_0=${6 * zone - 183} +k=0.9996 +x_0=500000 +y_0=${northing}`;
}

/** The figures of a projection in one order and rounding, to be compared. */
function figuresOf(projection: string): string {
  const given = new Map([...projection.matchAll(/\+(\w+)=(\S+)/g)].map((found) => [found[1]!, found[2]!]));
  const number = (key: string, usual: number, decimals: number) =>
    Number(given.get(key) ?? usual).toFixed(decimals);
  const parallels = [number("lat_1", 0, 6), number("lat_2", 0, 6)].sort();
  const lon = given.has("lonc") ? number("lonc", 0, 6) : number("lon_0", 0, 6);
  const lengths = [number("x_0", 0, 2), number("y_0", 0, 2)].map((text) => text.replace(/^-0\.00$/, "0.00"));
  const angle = ((Number(number("alpha", 0, 5)) + 360) % 360).toFixed(5);
  return [
    given.get("proj"),
    number("lat_0", 0, 6),
    lon,
    ...parallels,
    number("k", 1, 8),
    ...lengths,
    angle,
  ].join(" ");
}

/** A position that cannot be turned, or a projection whose figures make none, gives NaN. */
function inverseOf(projection: string): (point: Point) => Point {
  const nowhere: Point = [Number.NaN, Number.NaN];
  try {
    const convert = proj4(projection, "+proj=longlat +datum=WGS84 +no_defs");
    return ([x, y]) => {
      try {
        const [lon, lat] = convert.forward([x, y]);
        return [lon!, lat!];
      } catch {
        return nowhere;
      }
    };
  } catch {
    return () => nowhere;
  }
}
