import type { Notice } from "../../errors/index.ts";
import type { Frame, Grid, MultiPolygon, Point } from "../../geo/index.ts";
import type { AveragedModel, Decision, LeaveOneOutTable, VariogramModel } from "../../interpolate/index.ts";
import type { FieldStand, Ledger } from "../../ledger/index.ts";
import type { BalanceSheet } from "../../need/index.ts";
import type { Extra, Prescription } from "../../prescription/index.ts";
import type { SampleRecord, SoilSample } from "../../soil/index.ts";
import type { TestName } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { FieldProducts, SettledBlend } from "../document/field-products.ts";
import type { DriveFigures, LaidPasses, Pieces } from "./drive-result-types.ts";
import type { FieldCare } from "./field-care.ts";
import type {
  AlsoWanted,
  BalanceReasons,
  Cover,
  Excluded,
  NeedRule,
  ShownTest,
  Wanted,
} from "./need-result-types.ts";
import type { Split } from "./split-result-types.ts";

export type { ProductRates, Split } from "./split-result-types.ts";

/** A field's boundary, line and samples after reading and checking, in degrees and in the field's plane. */
export interface CheckedField {
  readonly boundaryLonLat: MultiPolygon;
  readonly frame: Frame;
  /** Metres in the frame. */
  readonly boundary: MultiPolygon;
  /** A and B, metres in the frame; of a curve its first and its last point. */
  readonly line: readonly [Point, Point];
  /** What the rig steers by, metres in the frame: A and B for straight passes, more points along a curve. */
  readonly guidance: readonly Point[];
  readonly samples: readonly SoilSample[];
  /** pH, organic matter, date and laboratory of the samples, in their order. */
  readonly records: readonly SampleRecord[];
  readonly samplings: readonly FieldSampling[];
  /** Places of the samples, metres in the frame, in their order. */
  readonly places: readonly Point[];
  /** Extractant and finish of each test. */
  readonly methods: { readonly P: string; readonly K: string };
  /** Sampling depth as stated, such as `0-8in`; empty when nobody said. */
  readonly depth: string;
  readonly areaAc: number;
  readonly notices: readonly Notice[];
}

/** What does not change with the line the rig follows. */
export type CheckedLand = Omit<CheckedField, "line" | "guidance">;

/** One visit to the field with the probe, and the tests that are read from it. */
export interface FieldSampling {
  /** The source, with the first day where it holds several visits. */
  readonly id: string;
  readonly source: string;
  /** Last day, YYYY-MM-DD; null where nobody says. */
  readonly date: string | null;
  readonly depthIn: number | null;
  readonly lab: string | null;
  /** How the cores lay to old fertilizer bands. */
  readonly coresToBands: string | null;
  readonly samples: number;
  readonly usedFor: readonly TestName[];
}

/** The field's cells; `areaM2` is the part of each inside the boundary, 0 outside. */
export interface FieldGrid {
  readonly grid: Grid;
  readonly areaM2: Float64Array;
}

/** One soil test over the field's cells; NaN outside. */
export interface SoilMap {
  readonly estimate: Float64Array;
  /** Variance of what the cell's mean may be; empty for inverse distance and for a field's mean. */
  readonly variance: Float64Array;
  readonly method: string;
  readonly samples: number;
  readonly mean: number;
  /** The ten steps from samples to this map, each a sentence with its figures; empty for inverse distance. */
  readonly decisions: readonly Decision[];
  /** Kriging beside inverse distance and the mean of the others; null below two samples. */
  readonly table: LeaveOneOutTable | null;
  /** The variogram used; null for inverse distance. */
  readonly model: VariogramModel | null;
  /** What it was averaged from; null for a typed one and where nothing was. */
  readonly averaged: AveragedModel | null;
  /** Samples as the map took them, in file order. */
  readonly taken: readonly TakenSample[];
  /** No reliable pattern at this spacing: a flat rate is as good. */
  readonly noPattern: boolean;
  /** Each sample estimated from the others: root mean square error and mean error, in the test's unit. */
  readonly leaveOneOut: SamplesLeftOut | null;
}

/** A sample's value of one test. */
export interface TakenSample {
  readonly id: string;
  /** Metres in the field's frame. */
  readonly at: Point;
  readonly value: number;
  /** Its own exchange capacity, meq/100 g; null where the lab gave none. */
  readonly cecMeq: number | null;
}

/** Samples in their order, each beside its estimate from the others; root mean square and mean of observed less
 * estimate, in the test's unit. */
export interface SamplesLeftOut {
  readonly rmse: number;
  readonly meanError: number;
  readonly observed: Float64Array;
  readonly estimate: Float64Array;
}

/** Need of one field. */
export interface NeedMap {
  /** Where the need comes from: samples on a grid, a composite a zone, the adviser's own rates, or one rate. */
  readonly from: "grid" | "zones" | "rates" | "flat";
  readonly P2O5: OxideNeed;
  readonly K2O: OxideNeed;
  /** lb oxide per acre over the field's cells, not rounded; NaN outside. */
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
  /** The field's pounds by each way to read the guide, of which one drives the rates. */
  readonly figures: { readonly P2O5: NeedFigures; readonly K2O: NeedFigures };
  /** Whether all of them were worked out that there can be, or only the one that drives the rates. */
  readonly hasAllReadings: boolean;
  readonly notices: readonly Notice[];
}

/** How the need of one oxide came about. */
export interface OxideNeed {
  /** Null where no guide was read. */
  readonly rule: NeedRule | null;
  readonly cover: Cover;
  /** What wants a scarce pound first, a cell each, low before high. */
  readonly priority: Float64Array;
  /** 1 on cells below critical, as the guide's data have it (`isBelowCritical` of its rule); 0 on all others. */
  readonly isBelow: Uint8Array;
}

/** Pounds of an oxide for the field. */
export interface NeedFigures {
  /** The guide read at each cell's mapped test. */
  readonly mappedTestLb: number;
  /**
   * Mean of the need over what each cell's test may be; the unbiased total. Over the samples themselves where they are too few
   * for a map. Null without a variance.
   */
  readonly expectedLb: number | null;
  /** The need that weighs a missing against an excess pound; null unless the plan gives both costs. */
  readonly weightedLb: number | null;
  /** Mean of the needs at the samples, times the field's acres. */
  readonly atSamplesLb: number;
  /** One rate for the whole field, lb/ac, from the distribution of the need over its cells; never the need of
   * the mean test. */
  readonly flatLbPerAc: number;
  /** Acres where the first two part by more than 5 % of the field's mean need. */
  readonly partedAc: number;
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
  /** Of the shortage, what pieces that touch excluded ground do not get. */
  readonly excludedLb: { readonly P2O5: number; readonly K2O: number };
  /** Of the shortage, what is meant: a pound in the strip stands for more than one of the need. */
  readonly bandedLb: { readonly P2O5: number; readonly K2O: number };
  readonly gaps: Gaps;
  readonly notices: readonly Notice[];
}

/**
 * lb oxide/ac below and above the need on each of the spreader's cells, before its steps, as the balance has them: what
 * limits, budget, exclusions and credits make of it too; what the band factor leaves out is not in it.
 */
export type Gaps = Readonly<
  Record<"P2O5" | "K2O", { readonly short: Float64Array; readonly over: Float64Array }>
>;

/** Where the pounds of one oxide stand in a field; strip + broadcast + credits + shortage - excess -
 * rounding = need: rounding is the files' pounds less the need's. */
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
  /** Brought by strip or credits where less was needed. */
  readonly excessLb: number;
  /** Left by the steps of the spreader's rates. */
  readonly roundingLb: number;
}

/** Everything worked out for one field. */
export interface FieldResult {
  readonly field: PlanField;
  readonly checked: CheckedField;
  readonly cells: FieldGrid;
  readonly maps: Readonly<Partial<Record<TestName, SoilMap>>>;
  /** Yield goal, bu/ac: the field's, or one a cell where there are yield zones. */
  readonly yields: number | Float64Array;
  readonly need: NeedMap;
  readonly excluded: Excluded;
  readonly wanted: Wanted;
  readonly laid: FieldProducts;
  readonly split: Split;
  readonly care: FieldCare;
  readonly passes: LaidPasses;
  readonly driving: DriveFigures;
  readonly swaths: Pieces;
  /** Where the field stays short and where too much lies. */
  readonly gaps: Gaps;
  /** Passes that the ledger says are done; their maps have rates and no files. */
  readonly finished: readonly FinishedPass[];
  readonly prescriptions: readonly Prescription[];
  /** Other forms of the maps, as the plan asks for them; empty until files are written. */
  readonly extras: readonly Extra[];
  readonly balances: readonly Balance[];
  readonly balanceReasons: { readonly P2O5: BalanceReasons; readonly K2O: BalanceReasons };
  /** Removal, build-up, drawdown, and what comes along, by what the files place. */
  readonly sheet: BalanceSheet;
  readonly alsoWanted: readonly AlsoWanted[];
  /** pH, buffer pH and organic matter of the samples; no lime recommendation is made from them. */
  readonly shownTests: Readonly<Partial<Record<"pH" | "bufferPH" | "organicMatter", ShownTest>>>;
  readonly notices: readonly Notice[];
}

/** A pass of a field that is done. */
export interface FinishedPass {
  readonly pass: "strip" | "broadcast";
  /** YYYY-MM-DD. */
  readonly date: string;
}

/** A field that could not be worked out, in words. */
export interface RefusedField {
  readonly field: string;
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

/** Pounds of one product in one pass over all fields. */
export interface ProductTotal {
  readonly product: string;
  readonly pass: "strip" | "broadcast" | "all";
  readonly lb: number;
  readonly tons: number;
  /** Dollars at the plan's price, those of a blend without one at its parts'; null where they have none either. An order counts typed prices alone. */
  readonly usd: number | null;
}

/** What `run` gives: fields, totals, notices and files. */
export interface RunResult {
  readonly plan: Plan;
  readonly planSha256: string;
  readonly fields: readonly FieldResult[];
  readonly refused: readonly RefusedField[];
  readonly totals: readonly ProductTotal[];
  /** Blends with the ratios found for them. */
  readonly blends: readonly SettledBlend[];
  readonly acres: number;
  readonly ledger: Ledger;
  /** Where each field stands by the ledger, in the order of `fields`; then others of which it has something placed. */
  readonly stands: readonly FieldStand[];
  readonly notices: readonly Notice[];
  /** `69 of 70 fields`, or empty when every field is in the totals. */
  readonly incomplete: string;
}
