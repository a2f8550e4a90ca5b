import { InputError } from "../errors/index.ts";
import {
  type Feature,
  readCsv,
  readXml,
  rereadShapefile,
  xmlBelow,
  xmlChild,
  xmlTextOf,
} from "../formats/index.ts";
import { ellipsoidArea, type MultiPolygon, orient, type Polygon, tilingFaults } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { acres, KG_PER_HA_PER_LB_PER_AC } from "../units/index.ts";
import { type Extra, type ExtraGround, KG_HA_COLUMN } from "./extra.ts";
import type { FallbackLimits } from "./fallback.ts";
import { holeLand } from "./melt-tiles.ts";
import type { Ground, Prescription } from "./prescription.ts";
import { RATE_COLUMN } from "./rate-records.ts";
import { EDGE_DEG, type Outline, POUNDS, type ReadBackFault } from "./read-back.ts";
import { taskDataFaults } from "./read-back-task-data.ts";

/**
 * Re-read one extra form with code that did not write it and hold it against its maps: shapefiles record by record, the
 * plain one for single polygons without holes, grids cell by cell, KML and CSV zone by zone; pounds to 0.001 % of
 * what the form states, and what it states against the map. Nothing found means that it may be published.
 */
export async function readBackExtraFaults(
  extra: Extra,
  maps: readonly Prescription[],
  ground: ExtraGround,
  outline: Outline,
  limits: Omit<FallbackLimits, "stepLbPerAc">,
): Promise<ReadBackFault[]> {
  const own = maps.filter((map) => extra.stems.includes(map.stem));
  const map = own[0];
  if (map === undefined || own.length !== extra.stems.length)
    throw new Error("an extra form without its maps");
  const file = [...extra.files.keys()][0]!;
  try {
    const found =
      extra.form === "kg-ha"
        ? await kgHaFaults(extra, map, ground, outline)
        : extra.form === "fallback"
          ? await fallbackFaults(extra, map, ground, outline, limits)
          : extra.form === "kml"
            ? kmlFaults(extra, map, ground)
            : extra.form === "csv"
              ? csvFaults(extra, map, ground)
              : taskDataFaults(extra, own, ground, outline);
    return found.map((what) => ({ file, what }));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return [{ file, what: error.message }];
  }
}

const ratesOf = (features: readonly Feature[], column: string): number[] =>
  features.map((feature) => {
    const numbers = Object.values(feature.properties).filter((value) => typeof value === "number");
    const rate = feature.properties[column];
    if (typeof rate !== "number" || numbers.length !== 1 || !(rate >= 0)) {
      throw fault(`record ${feature.record}: ${column} is not its one number, or below 0`);
    }
    return rate;
  });

function polygonsOf(features: readonly Feature[]): Polygon[] {
  return features.map(({ geometry, record }) => {
    const polygons = geometry?.kind === "polygon" ? geometry.polygons : [];
    if (polygons.length !== 1) throw fault(`record ${record} is not a single polygon`);
    return polygons[0]!;
  });
}

function poundsFaults(polygons: readonly Polygon[], lbPerAc: readonly number[], meantLb: number): string[] {
  const lb = sum(polygons.map((polygon, k) => acres(ellipsoidArea([polygon])) * lbPerAc[k]!));
  if (Math.abs(lb - meantLb) <= POUNDS * Math.max(meantLb, 1)) return [];
  return [`${lb.toFixed(2)} lb by its polygons and rates, ${meantLb.toFixed(2)} lb were meant`];
}

function tilesFaults(polygons: readonly Polygon[], boundary: MultiPolygon): string[] {
  const tiles = polygons.map((polygon) => [polygon]);
  return tilingFaults(tiles, boundary, EDGE_DEG)
    .slice(0, 3)
    .map(({ kind, tile, place }) => `gap or overlap (${kind}) at record ${tile + 1}, ${place.join(", ")}`);
}

async function kgHaFaults(
  extra: Extra,
  map: Prescription,
  ground: ExtraGround,
  outline: Outline,
): Promise<string[]> {
  const features = await rereadShapefile(extra.files);
  const rates = ratesOf(features, KG_HA_COLUMN);
  const polygons = polygonsOf(features);
  const { polygons: meant, members }: Ground = ground.ofMap?.(map) ?? ground;
  const off = rates.findIndex((rate, k) =>
    (members ? (members[k] ?? []) : [k]).some(
      (piece) => Math.abs(rate / KG_PER_HA_PER_LB_PER_AC - map.rateLbPerAc[piece]!) > 1e-5,
    ),
  );
  const lbPerAc = rates.map((rate) => rate / KG_PER_HA_PER_LB_PER_AC);
  return [
    ...(rates.length === meant.length ? [] : [`${rates.length} records`]),
    ...(extra.shapes === rates.length ? [] : [`${rates.length} records, ${extra.shapes} are told`]),
    ...(off < 0 ? [] : [`record ${off + 1}: ${rates[off]} kg/ha is another rate`]),
    ...poundsFaults(polygons, lbPerAc, map.totalLb),
    ...tilesFaults(polygons, outline.boundaryLonLat),
  ];
}

async function fallbackFaults(
  extra: Extra,
  map: Prescription,
  ground: ExtraGround,
  outline: Outline,
  limits: Omit<FallbackLimits, "stepLbPerAc">,
): Promise<string[]> {
  const features = await rereadShapefile(extra.files);
  const rates = ratesOf(features, RATE_COLUMN);
  const polygons = polygonsOf(features);
  const filled = outline.boundaryLonLat;
  const holes = holeLand(filled);
  const faults = [
    ...poundsFaults(polygons, rates, extra.totalLb[0]!),
    ...tilesFaults(polygons, orient([...filled, ...holes])),
    ...zeroFaults(polygons, rates, acres(ellipsoidArea(holes)), ground, limits),
  ];
  const holed = polygons.findIndex((polygon) => polygon.length > 1);
  if (holed >= 0) faults.push(`record ${holed + 1} has a hole`);
  if (features.some((feature) => feature.properties.PRODUCT !== map.product)) faults.push("another product");
  if (polygons.length > limits.mostPolygons && !extra.isOverLimits)
    faults.push(`${polygons.length} polygons`);
  const most = polygons.reduce((count, polygon) => Math.max(count, polygon[0]!.length + 1), 0);
  if (most > limits.mostVertices && !extra.isOverLimits) faults.push(`a polygon of ${most} vertices`);
  if (Math.abs(extra.totalLb[0]! - map.totalLb - extra.changeLb[0]!) > 1e-6)
    faults.push("the change in pounds is not as stated");
  return faults;
}

/** Acres that may lie off where polygons were cut and rounded. */
const ZERO_AC = 0.01;

/** Beside a small rate in place of 0 just the holes and what is kept clear have 0, and what is kept clear has nothing in any case. */
function zeroFaults(
  polygons: readonly Polygon[],
  rates: readonly number[],
  holesAc: number,
  { pieces, areaAc }: ExtraGround,
  { smallRateLbPerAc = 0 }: Omit<FallbackLimits, "stepLbPerAc">,
): string[] {
  const zeroAc = acres(ellipsoidArea(polygons.filter((_, k) => rates[k] === 0)));
  const meantAc = holesAc + sum(areaAc.map((ac, k) => (pieces[k]!.keptOff ? ac : 0)));
  const isOff = smallRateLbPerAc > 0 ? Math.abs(zeroAc - meantAc) > ZERO_AC : zeroAc < meantAc - ZERO_AC;
  return isOff ? [`${zeroAc.toFixed(2)} ac have 0, ${meantAc.toFixed(2)} were meant`] : [];
}

function kmlFaults(extra: Extra, map: Prescription, ground: ExtraGround): string[] {
  const [name, bytes] = [...extra.files][0]!;
  const placemarks = xmlBelow(readXml(bytes, name), "Placemark");
  const rates = placemarks.map((placemark) => {
    const data = xmlBelow(placemark, "Data").find((one) => one.attributes.get("name") === RATE_COLUMN);
    const text = data === undefined ? "" : xmlTextOf(data, "value");
    return text === "" ? Number.NaN : Number(text);
  });
  const polygons = placemarks.map((placemark): Polygon => {
    const polygon = xmlBelow(placemark, "Polygon")[0];
    if (polygon === undefined) throw fault("a placemark without a polygon");
    return polygon.children.map((boundary) => {
      const ring = xmlChild(boundary, "LinearRing");
      const tuples = (ring === undefined ? "" : xmlTextOf(ring, "coordinates")).split(" ");
      const points = tuples.map((tuple) => {
        const [lon, lat] = tuple.split(",").map(Number);
        return [lon!, lat!] as const;
      });
      if (points.length < 4 || tuples[0] !== tuples.at(-1)) throw fault("a ring that is not closed");
      return points.slice(0, -1);
    });
  });
  const same =
    polygons.length === ground.polygons.length &&
    polygons.every(
      (polygon, k) =>
        rates[k] === map.rateLbPerAc[k] && JSON.stringify(polygon) === JSON.stringify(ground.polygons[k]),
    );
  return [
    ...(same ? [] : ["not the polygons and rates of the map"]),
    ...poundsFaults(polygons, rates, map.totalLb),
  ];
}

function csvFaults(extra: Extra, map: Prescription, ground: ExtraGround): string[] {
  const [name, bytes] = [...extra.files][0]!;
  const table = readCsv(bytes, name);
  const column = (heading: string): number[] => {
    const at = table.headings.indexOf(heading);
    return table.rows.map((row) => Number(row.cells[at]));
  };
  const [rates, areas, pounds] = [column("rate_lb_ac"), column("area_ac"), column("lb")];
  const faults: string[] = [];
  if (rates.length !== ground.polygons.length) faults.push(`${rates.length} rows`);
  if (rates.some((rate, k) => rate !== map.rateLbPerAc[k])) faults.push("not the rates of the map");
  const off = (lb: number) => Math.abs(lb - map.totalLb) > POUNDS * Math.max(map.totalLb, 1);
  if (off(sum(pounds))) faults.push(`${sum(pounds)} lb, ${map.totalLb} were meant`);
  if (off(sum(areas.map((area, k) => area * rates[k]!)))) faults.push("acres times rates are other pounds");
  return faults;
}

const fault = (what: string): InputError =>
  new InputError("read-back", what, "Do not use the file; write it again.");
