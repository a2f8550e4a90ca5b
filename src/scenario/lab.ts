import { writeCsv } from "../formats/index.ts";
import type { Point } from "../geo/index.ts";
import type { Random } from "./random.ts";
import type { SeedSoil } from "./seed-types.ts";
import type { SoilAt } from "./truth.ts";

/** One bag as an invented laboratory reports it. */
export interface LabResult {
  readonly field: string;
  /** From 1 within the field. */
  readonly sample: number;
  readonly labNumber: number;
  readonly date: string;
  readonly lonLat: Point;
  readonly pPpm: number;
  readonly kPpm: number;
  readonly cecMeqPer100g: number;
  readonly ph: number;
  /** Null above pH 6.8, where the laboratory runs no buffer test. */
  readonly bufferPh: number | null;
  readonly organicMatterPercent: number;
}

export interface LabLayout {
  /** File name without ending. */
  readonly stem: string;
  readonly firstLabNumber: number;
  readonly date: string;
  /** What the headings leave open, as the plan keeps it. */
  readonly answers: Readonly<Record<string, string>>;
  readonly columns: readonly (readonly [heading: string, cell: (result: LabResult) => string])[];
}

/** Everything in the headings and rows: extractant, finish, unit and depth. */
export const FULL_LAYOUT: LabLayout = {
  stem: "soil-tests",
  firstLabNumber: 40_311,
  date: "2026-10-27",
  answers: {},
  columns: [
    ["Lab Number", (r) => String(r.labNumber)],
    ["Date", (r) => r.date],
    ["Field", (r) => r.field],
    ["Sample ID", (r) => String(r.sample)],
    ["Depth", () => "0-8in"],
    ["pH", (r) => r.ph.toFixed(1)],
    ["Buffer pH", (r) => r.bufferPh?.toFixed(1) ?? ""],
    ["OM (%)", (r) => r.organicMatterPercent.toFixed(1)],
    ["P Mehlich-3 ICP (ppm)", (r) => r.pPpm.toFixed(0)],
    ["K Mehlich-3 (ppm)", (r) => r.kPpm.toFixed(0)],
    ["CEC (meq/100g)", (r) => r.cecMeqPer100g.toFixed(1)],
    ["Longitude", (r) => r.lonLat[0].toFixed(6)],
    ["Latitude", (r) => r.lonLat[1].toFixed(6)],
  ],
};

/** A laboratory whose headings say neither the extractant nor the depth. */
export const BRIEF_LAYOUT: LabLayout = {
  stem: "soil-tests",
  firstLabNumber: 7_702,
  date: "2026-11-04",
  answers: { "method.P": "mehlich-3-icp", "method.K": "mehlich-3", depth: "0-8in" },
  columns: [
    ["Sample", (r) => String(r.sample)],
    ["Field", (r) => r.field],
    ["Lat", (r) => r.lonLat[1].toFixed(6)],
    ["Lon", (r) => r.lonLat[0].toFixed(6)],
    ["Sampled", (r) => r.date],
    ["P ppm", (r) => r.pPpm.toFixed(1)],
    ["K ppm", (r) => r.kPpm.toFixed(0)],
    ["CEC meq/100g", (r) => r.cecMeqPer100g.toFixed(1)],
    ["OM pct", (r) => r.organicMatterPercent.toFixed(1)],
    ["pH", (r) => r.ph.toFixed(2)],
    ["Lab No", (r) => String(r.labNumber)],
  ],
};

/** The laboratory's figures for a place: the truth times a ln-normal error, not yet rounded. */
export function labResult(
  random: Random,
  soil: SeedSoil,
  truth: SoilAt,
  label: Pick<LabResult, "field" | "sample" | "labNumber" | "date" | "lonLat">,
): LabResult {
  const off = (value: number, noise: number): number =>
    value * Math.exp(noise * Math.max(-2.5, Math.min(2.5, random.normal())));
  const ph = 6.5 - 0.35 * truth.knoll + 0.25 * truth.bottom + 0.22 * random.normal();
  return {
    ...label,
    pPpm: off(truth.pPpm, soil.P.sampleNoise),
    kPpm: off(truth.kPpm, soil.K.sampleNoise),
    cecMeqPer100g: off(truth.cecMeqPer100g, soil.CEC.sampleNoise),
    ph,
    bufferPh: ph > 6.8 ? null : 6.9 - 0.28 * (6.8 - ph) - 0.012 * truth.cecMeqPer100g,
    organicMatterPercent: 1.1 + 0.105 * truth.cecMeqPer100g + 0.15 * random.normal(),
  };
}

export function labTable(layout: LabLayout, results: readonly LabResult[]): Uint8Array {
  const headings = layout.columns.map(([heading]) => heading);
  return writeCsv(
    headings,
    results.map((result) => layout.columns.map(([, cell]) => cell(result))),
  );
}
