import { type Feature, writeGeoJson, writeShapefile } from "../formats/index.ts";
import type { Polygon } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";

/** The one numeric column of every prescription file, so that nothing else can be picked as the rate. */
export const RATE_COLUMN = "RATE_LBAC";

/** One map: a field, a pass, a bin and its product, with the files as they go on the stick. */
export interface Prescription {
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  /** By its analysis. */
  readonly product: string;
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
  readonly polygons: number;
  /** File name to bytes: .shp .shx .dbf .prj .cpg and .geojson of one stem. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

export interface PrescriptionInput {
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  readonly product: string;
  readonly stem: string;
  /** YYYY-MM-DD, written into the dbf header. */
  readonly date: string;
  /** Longitude and latitude as they will be written, a piece each; they tile the field. */
  readonly polygons: readonly Polygon[];
  readonly zones: readonly string[];
  readonly areaAc: Float64Array;
  readonly rateLbPerAc: Float64Array;
  readonly needLb: number;
}

/** Write one map in both formats: the same records in the same order, rates with two decimals. */
export function writePrescription(input: PrescriptionInput): Prescription {
  const { polygons, zones, areaAc, rateLbPerAc, stem } = input;
  const features: Feature[] = polygons.map((polygon, k) => ({
    record: k + 1,
    geometry: { kind: "polygon", polygons: [polygon] },
    properties: { [RATE_COLUMN]: rateLbPerAc[k]!, ZONE: zones[k]!, PRODUCT: input.product },
  }));
  const files = new Map(
    writeShapefile({
      stem,
      date: input.date,
      features,
      columns: [
        { name: RATE_COLUMN, type: "N", width: 10, decimals: 2 },
        { name: "ZONE", type: "C", width: 16 },
        { name: "PRODUCT", type: "C", width: 20 },
      ],
    }),
  );
  files.set(`${stem}.geojson`, writeGeoJson(features));
  const totalLb = sum(areaAc.map((acres, k) => acres * rateLbPerAc[k]!));
  const totalAc = sum(areaAc);
  return {
    field: input.field,
    pass: input.pass,
    bin: input.bin,
    product: input.product,
    rateLbPerAc,
    areaAc: totalAc,
    totalLb,
    needLb: input.needLb,
    meanLbPerAc: totalLb / totalAc,
    minLbPerAc: rateLbPerAc.reduce((least, rate) => Math.min(least, rate), Number.POSITIVE_INFINITY),
    maxLbPerAc: rateLbPerAc.reduce((most, rate) => Math.max(most, rate), 0),
    polygons: polygons.length,
    files,
  };
}
