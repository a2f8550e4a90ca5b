import { writeGeoJson, writeShapefile } from "../formats/index.ts";
import type { Polygon } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import type { Grade } from "../products/index.ts";
import { rateColumns, rateRecords } from "./rate-records.ts";

/** One map: a field, a pass, a bin and its product, with the files as they go on the stick. */
export interface Prescription {
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  /** By its analysis or its name in the plan. */
  readonly product: string;
  /** Percent by weight. */
  readonly analysis: Grade;
  /** Name of its files without their endings. */
  readonly stem: string;
  /** lb of that product per acre of whole field, a piece each, as written. */
  readonly rateLbPerAc: Float64Array;
  readonly areaAc: number;
  /** Pounds the files place: acres of the written polygons on the ellipsoid times their rates. */
  readonly totalLb: number;
  /** Pounds wanted in this pass before rates were averaged over pieces and stepped. */
  readonly needLb: number;
  readonly meanLbPerAc: number;
  readonly minLbPerAc: number;
  readonly maxLbPerAc: number;
  /** Records of its files; until they are written, stretches or pieces. */
  readonly polygons: number;
  /** Number of the stretch of each piece, from 0, where stretches have a polygon each; else pieces have. */
  readonly stretchOf?: Int32Array;
  /** File name to bytes: .shp .shx .dbf .prj .cpg and .geojson of one stem; empty until they are written. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

interface RateInput
  extends Pick<
    Prescription,
    "field" | "pass" | "bin" | "product" | "analysis" | "stem" | "rateLbPerAc" | "needLb" | "stretchOf"
  > {
  /** Acres of the pieces as they will be written, on the ellipsoid. */
  readonly areaAc: Float64Array;
}

/** One map with its totals, not yet written. Rates are taken to the two decimals that files hold. */
export function ratePrescription(input: RateInput): Prescription {
  const { field, pass, bin, product, analysis, stem, areaAc, needLb, stretchOf } = input;
  const rateLbPerAc = input.rateLbPerAc.map((rate) => Math.round(rate * 100) / 100);
  const totalLb = sum(areaAc.map((acres, k) => acres * rateLbPerAc[k]!));
  const totalAc = sum(areaAc);
  return {
    field,
    pass,
    bin,
    product,
    analysis,
    stem,
    rateLbPerAc,
    areaAc: totalAc,
    totalLb,
    needLb,
    meanLbPerAc: totalLb / totalAc,
    minLbPerAc: rateLbPerAc.reduce((least, rate) => Math.min(least, rate), Number.POSITIVE_INFINITY),
    maxLbPerAc: rateLbPerAc.reduce((most, rate) => Math.max(most, rate), 0),
    polygons: stretchOf ? new Set(stretchOf).size : rateLbPerAc.length,
    ...(stretchOf ? { stretchOf } : {}),
    files: new Map(),
  };
}

/** Where a map's rates lie. */
export interface Ground {
  /** Longitude and latitude as they will be written; they tile the field. */
  readonly polygons: readonly Polygon[];
  readonly zones: readonly string[];
  /** The pieces of each polygon, of one rate; one each, in their order, when absent. */
  readonly members?: readonly (readonly number[])[];
}

/**
 * The map with its files in both formats: the same records in the same order. `date` (YYYY-MM-DD) goes into the
 * dbf header.
 */
export function writePrescription(map: Prescription, ground: Ground, date: string): Prescription {
  const { polygons, zones, members } = ground;
  const rates = polygons.map((_, k) => map.rateLbPerAc[members ? members[k]![0]! : k]!);
  const features = rateRecords(polygons, rates, zones, map.product);
  const files = new Map(writeShapefile({ stem: map.stem, date, features, columns: rateColumns() }));
  files.set(`${map.stem}.geojson`, writeGeoJson(features));
  return { ...map, polygons: polygons.length, files };
}
