import type { Notice } from "../errors/index.ts";
import type { Frame, Grid, MultiPolygon, Point, Polygon } from "../geo/index.ts";
import type { Overlaps, Prescription } from "../prescription/index.ts";
import type { SoilSample } from "../soil/index.ts";
import type { Segment } from "../strips/index.ts";
import type { Plan, PlanField, TestName } from "./document-types.ts";

/** A field's boundary, line and samples after reading and checking, in degrees and in the field's plane. */
export interface CheckedField {
  readonly boundaryLonLat: MultiPolygon;
  readonly frame: Frame;
  /** Metres in the frame. */
  readonly boundary: MultiPolygon;
  /** A and B, metres in the frame. */
  readonly line: readonly [Point, Point];
  readonly samples: readonly SoilSample[];
  /** Places of the samples, metres in the frame, in their order. */
  readonly places: readonly Point[];
  /** Extractant and finish of each test. */
  readonly methods: { readonly P: string; readonly K: string };
  /** Sampling depth as stated, such as `0-8in`; empty when nobody said. */
  readonly depth: string;
  readonly areaAc: number;
  readonly notices: readonly Notice[];
}

/** The field's cells; `areaM2` is the part of each inside the boundary, 0 outside. */
export interface FieldGrid {
  readonly grid: Grid;
  readonly areaM2: Float64Array;
}

/** One soil test over the field's cells; NaN outside. */
export interface SoilMap {
  readonly estimate: Float64Array;
  /** Kriging variance of the cell's mean; empty for inverse distance. */
  readonly variance: Float64Array;
  readonly method: string;
  readonly samples: number;
  readonly mean: number;
  /** Each sample estimated from the others: root mean square error and mean error, in the test's unit. */
  readonly leaveOneOut: SamplesLeftOut | null;
}

/** Samples in their order, each beside its estimate from the others; root mean square and mean of observed less
 * estimate, in the test's unit. */
export interface SamplesLeftOut {
  readonly rmse: number;
  readonly meanError: number;
  readonly observed: Float64Array;
  readonly estimate: Float64Array;
}

export interface NeedMap {
  /** lb oxide per acre over the field's cells, not rounded; NaN outside. */
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
  readonly notices: readonly Notice[];
}

/** A product's rates over the cells, lb product/ac; NaN outside. */
export interface ProductRates {
  readonly product: string;
  readonly bin: string;
  readonly full: Float64Array;
  readonly strip: Float64Array;
  readonly rest: Float64Array;
}

export interface Split {
  /** lb/ac of all products together that no cell's strip rate exceeds; null when nothing is cut. */
  readonly ceilingLbPerAc: number | null;
  readonly products: readonly ProductRates[];
  readonly notices: readonly Notice[];
}

/** A pass cut into segments, or the spreader's cells: shapes as they will be written. */
export interface Pieces {
  readonly pieces: readonly Segment[];
  /** Longitude and latitude as written, one polygon a piece. */
  readonly written: readonly Polygon[];
  /** Acres of the written polygons on the ellipsoid. */
  readonly areaAc: Float64Array;
  /** How they lie on the field's cells. */
  readonly overlaps: Overlaps;
}

/** Soil tests mapped over the cells. */
export interface SoilMaps {
  readonly maps: Readonly<Partial<Record<TestName, SoilMap>>>;
  readonly notices: readonly Notice[];
}

/** The broadcast maps and what they were made from, lb oxide a field. */
export interface Broadcast {
  readonly prescriptions: readonly Prescription[];
  readonly shortageLb: { readonly P2O5: number; readonly K2O: number };
  readonly excessLb: { readonly P2O5: number; readonly K2O: number };
}

/** Where the pounds of one oxide stand in a field; strip + broadcast + credits + shortage - excess +
 * rounding = need. */
export interface Balance {
  readonly nutrient: "P2O5" | "K2O";
  readonly needLb: number;
  /** By the strip files as written. */
  readonly stripLb: number;
  /** By the broadcast files as written. */
  readonly broadcastLb: number;
  readonly creditsLb: number;
  /** Needed and brought by nothing. */
  readonly shortageLb: number;
  /** Brought by the strip where less was needed. */
  readonly excessLb: number;
  /** Left by the steps of the spreader's rates. */
  readonly roundingLb: number;
}

export interface FieldResult {
  readonly field: PlanField;
  readonly checked: CheckedField;
  readonly cells: FieldGrid;
  readonly maps: Readonly<Partial<Record<TestName, SoilMap>>>;
  readonly need: NeedMap;
  readonly split: Split;
  readonly passes: Pieces;
  readonly swaths: Pieces;
  readonly prescriptions: readonly Prescription[];
  readonly balances: readonly Balance[];
  readonly notices: readonly Notice[];
}

/** A field that could not be worked out, in words. */
export interface RefusedField {
  readonly field: string;
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

export interface ProductTotal {
  readonly product: string;
  readonly pass: "strip" | "broadcast" | "all";
  readonly lb: number;
  readonly tons: number;
  /** Dollars at the plan's price, or null without one. */
  readonly usd: number | null;
}

export interface RunResult {
  readonly plan: Plan;
  readonly planSha256: string;
  readonly fields: readonly FieldResult[];
  readonly refused: readonly RefusedField[];
  readonly totals: readonly ProductTotal[];
  readonly acres: number;
  readonly notices: readonly Notice[];
  /** `69 of 70 fields`, or empty when every field is in the totals. */
  readonly incomplete: string;
}
