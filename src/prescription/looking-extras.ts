import { type Feature, writeCsv, writeKml, writeShapefile } from "../formats/index.ts";
import { boundsOf } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { KG_PER_HA_PER_LB_PER_AC } from "../units/index.ts";
import { type Extra, type ExtraGround, KG_HA_COLUMN, KG_HA_MARK, shadeOf } from "./extra.ts";
import type { Ground, Prescription } from "./prescription.ts";
import { RATE_COLUMN, rateColumns, rateRecords } from "./rate-records.ts";

const KG_HA_DECIMALS = 5;

/** The same map in kg/ha, polygon by polygon, for whoever asks for it: a column and a file name of its own. */
export function kgHaExtra(map: Prescription, pieces: ExtraGround, date: string): Extra {
  const { polygons, zones, members }: Ground = pieces.ofMap?.(map) ?? pieces;
  const ofPieces = map.rateLbPerAc.map((rate) =>
    Number((rate * KG_PER_HA_PER_LB_PER_AC).toFixed(KG_HA_DECIMALS)),
  );
  const rates = polygons.map((_, k) => ofPieces[members ? members[k]![0]! : k]!);
  const stem = `${map.stem}${KG_HA_MARK}`;
  const files = writeShapefile({
    stem,
    date,
    features: rateRecords(polygons, rates, zones, map.product, KG_HA_COLUMN),
    columns: rateColumns(KG_HA_COLUMN, 13, KG_HA_DECIMALS),
  });
  const totalLb = sum(pieces.areaAc.map((ac, k) => (ac * ofPieces[k]!) / KG_PER_HA_PER_LB_PER_AC));
  return {
    ...extraOf("kg-ha", map, totalLb, files, polygons.length),
    unit: "kg/ha",
    note: "rates in kg/ha: never load it as lb/ac",
  };
}

/** The map as KML, to look at over a picture of the land; no controller takes it. */
export function kmlExtra(map: Prescription, ground: ExtraGround): Extra {
  const rateOf = (feature: Feature) => feature.properties[RATE_COLUMN] as number;
  const bytes = writeKml({
    name: `${map.stem}, ${map.product}, lb/ac`,
    features: rateRecords(ground.polygons, map.rateLbPerAc, ground.zones, map.product),
    title: (feature) => `${feature.properties.ZONE}: ${rateOf(feature)} lb/ac`,
    shade: (feature) => shadeOf(map, rateOf(feature)),
  });
  return extraOf("kml", map, map.totalLb, new Map([[`${map.stem}.kml`, bytes]]), ground.polygons.length);
}

/**
 * Zones as a table: rate, acres, pounds and the middle of each zone's box. Acres to 7 decimals; pounds to 5, each rounded
 * with what the rows before it were off, so that many alike add up to the map's.
 */
export function csvExtra(map: Prescription, ground: ExtraGround): Extra {
  const headings = ["zone", "product", "rate_lb_ac", "area_ac", "lb", "lon", "lat"];
  let [meantLb, writtenLb] = [0, 0];
  const rows = ground.polygons.map((polygon, k) => {
    const { minX, minY, maxX, maxY } = boundsOf([polygon]);
    const acres = Number(ground.areaAc[k]!.toFixed(7));
    const rate = map.rateLbPerAc[k]!;
    meantLb += rate * ground.areaAc[k]!;
    const lb = Number((meantLb - writtenLb).toFixed(5));
    writtenLb += lb;
    return [
      ground.zones[k]!,
      map.product,
      rate,
      acres,
      lb,
      Number(((minX + maxX) / 2).toFixed(7)),
      Number(((minY + maxY) / 2).toFixed(7)),
    ];
  });
  return extraOf(
    "csv",
    map,
    map.totalLb,
    new Map([[`${map.stem}.csv`, writeCsv(headings, rows)]]),
    rows.length,
  );
}

const extraOf = (
  form: Extra["form"],
  map: Prescription,
  totalLb: number,
  files: ReadonlyMap<string, Uint8Array>,
  shapes: number,
): Extra => ({
  form,
  stems: [map.stem],
  files,
  unit: "lb/ac",
  totalLb: [totalLb],
  changeLb: [totalLb - map.totalLb],
  leastLbPerAc: [map.minLbPerAc],
  mostLbPerAc: [map.maxLbPerAc],
  shapes,
  note: "",
});
