import type { ExtraForm } from "../../prescription/index.ts";
import type { PlanFieldDrive, PlanRigDrive } from "./document-drive-types.ts";
import type {
  PlanBudget,
  PlanExclusion,
  PlanFieldNeed,
  PlanGuideCheck,
  PlanSampling,
  TestName,
} from "./document-need-types.ts";
import type { PlanBinSize, PlanRigHold, PlanTender } from "./document-rig-types.ts";
import type { PlanSeasonKeys } from "./document-season-types.ts";

import type { PlanBinUse, PlanBlend, PlanProduct, PlanSeed, PlanSplitWay } from "./document-split-types.ts";

/** What plan.json holds: every choice and answer with its unit, nothing that can be worked out from them.
 * The schema in `document.ts` says which values are allowed. */
export interface Plan extends PlanSeasonKeys {
  readonly format: "plan/1";
  readonly name: string;
  readonly seasonYear: number;
  /** The day written into dbf headers and archives (YYYY-MM-DD), so that two builds give equal bytes. */
  readonly date: string;
  readonly sources: readonly PlanSource[];
  readonly rig: PlanRig;
  /** Product is always at hand when absent. */
  readonly tender?: PlanTender;
  readonly spreader: PlanSpreader;
  readonly split: PlanSplit;
  readonly products?: readonly PlanProduct[];
  readonly blends?: readonly PlanBlend[];
  readonly seed?: PlanSeed;
  readonly maps: PlanMaps;
  /** Need of the mapped test when absent. */
  readonly need?: PlanNeed;
  readonly guides?: readonly PlanGuideCheck[];
  /** Older samplings are pointed out; 4 when absent. */
  readonly samplingLimitYears?: number;
  /** Credits dated outside it do not count; 1 September before to 31 August when absent. */
  readonly cropYear?: { readonly from: string; readonly to: string };
  readonly exclusions?: readonly PlanExclusion[];
  readonly budget?: PlanBudget;
  readonly ownGuides?: readonly PlanOwnGuide[];
  /** $ per short ton, by product. */
  readonly pricesUsdPerTon?: Readonly<Record<string, number>>;
  readonly controller?: PlanController;
  /** Other forms of every map to write besides; none when absent. */
  readonly extras?: readonly ExtraForm[];
  readonly fields: readonly PlanField[];
}

/** What the rate controller takes, as somebody typed it; what is absent is not known. */
export interface PlanController {
  /** Letters of a file name without its ending; 20 when absent. */
  readonly nameLength?: number;
  /** Folder of the stick the maps go to; the top when absent or empty. */
  readonly folder?: string;
  /** Each map in a folder of its own. */
  readonly oneMapAFolder?: boolean;
  readonly mostPolygons?: number;
  /** Of one polygon. */
  readonly mostVertices?: number;
  readonly holesAllowed?: boolean;
  /** Of one .shp. */
  readonly mostBytes?: number;
  /** What it makes of a rate 0: stops; takes it for no data and lays its default rate; or must never get one. */
  readonly zeroRate?: "off" | "no-data" | "small";
  /** Written in the plain fallback instead of 0; with `zeroRate` small only. */
  readonly smallRateLbPerAc?: number;
  /** Rates of a task as grid (when absent) or as zones. */
  readonly taskRates?: "grid" | "zones";
  /** lb product/ac that a task sends at its start, when the position fails, outside the field; 0 each when absent. */
  readonly startLbPerAc?: number;
  readonly positionLostLbPerAc?: number;
  readonly outOfFieldLbPerAc?: number;
  /** Forms that go on the stick and so are written; when absent the maps, and of the extras the fallback and one version of tasks. */
  readonly loads?: readonly ("shapefile" | "kg-ha" | "fallback" | "taskdata-4" | "taskdata-3")[];
}

/** What a file of the plan is for. */
export type SourceRole = "boundary" | "guidance" | "samples" | "zones" | "rates" | "exclusions" | "places";

/** What a file is, which bytes it had when that was settled, and what was answered about it. */
export interface PlanSource {
  /** Relative to the plan's folder, forward slashes, without `..`. */
  readonly path: string;
  readonly as: SourceRole;
  readonly sha256: string;
  readonly answers: Readonly<Record<string, string>>;
  /** Of a source of samples. */
  readonly sampling?: PlanSampling;
}

/** The strip rig. */
export interface PlanRig extends PlanRigHold, PlanRigDrive {
  readonly rows: number;
  readonly rowSpacingIn: number;
  readonly bins: readonly PlanBin[];
  /** Length of a rate segment along the pass, m. */
  readonly segmentM: number;
  /** Strip rates are whole multiples of this, lb product/ac. */
  readonly rateStepLbPerAc: number;
}

/** A hopper on the rig and what it holds. */
export interface PlanBin extends PlanBinSize, PlanBinUse {
  readonly id: string;
  /** By its analysis, or the id of one of `products` or `blends`. */
  readonly product: string;
}

/** The spreader that brings later what the strip does not; its cells lie along the passes. */
export interface PlanSpreader {
  readonly widthFt: number;
  readonly lengthFt: number;
  readonly rateStepLbPerAc: number;
  /** What it spreads; the products of the bins, blends by their parts, when absent. */
  readonly products?: readonly string[];
  /** Lowest rate it can spread, all products together. */
  readonly leastLbPerAc?: number;
}

/** What the strip may take and who goes first. */
export interface PlanSplit extends PlanSplitWay {
  /** lb of all products together per acre of the ground the strip may go over. */
  readonly capLbPerAc: number;
  /** Whether the cap limits the field's mean or the most in any cell; with share and optimum always the mean. */
  readonly capBasis: "field-mean" | "most-in-a-cell";
  /** Under the ceiling a cell fills 11-52-0 first, or cuts every product by one factor. */
  readonly within: "first-11-52-0" | "alike";
}

/** How the soil maps are made. */
export interface PlanMaps {
  readonly cellM: 10;
  readonly method: "kriging" | "inverse-distance";
  /** Power of the distance; only for inverse-distance, 2 when absent. */
  readonly power?: number;
  /** Variograms typed for every field; without one the covariance is averaged, field by field. */
  readonly models?: PlanModels;
  /** Add up the likelihoods of the plan's fields, test by test, before averaging. */
  readonly pooled?: boolean;
  /** The longer axis clockwise from north, and range across it over range along it. */
  readonly anisotropy?: PlanAnisotropy;
  /** What is kriged: the mean of the cell (when absent) or its middle point. */
  readonly support?: "cell" | "point";
}

/** The longer axis clockwise from north, and range across it over range along it, at most 1. */
export interface PlanAnisotropy {
  readonly angleDeg: number;
  readonly ratio: number;
}

/** Which figure of a cell's need drives its rate. */
export interface PlanNeed {
  /** The need of the mapped test; the mean of the need over what the test may be; or the need that weighs a
   * missing pound against an excess one. */
  readonly drivenBy: "mapped-test" | "expected" | "weighted";
  /** $ that a pound of oxide costs when it is missing and when it is in excess; needed for `weighted`. */
  readonly usdPerLbMissing?: number;
  readonly usdPerLbExcess?: number;
}

/** A sample that somebody took out of the map of a test, or checked and keeps, and why. */
export interface PlanSwitchedOff {
  /** Its id in the lab's table. */
  readonly sample: string;
  readonly test: TestName;
  readonly reason: string;
}

/** Typed variograms by test. */
export type PlanModels = Readonly<Partial<Record<TestName, PlanModel>>>;

/** A variogram as somebody typed it; sills in the square of the test's unit. */
export interface PlanModel {
  readonly nugget: number;
  readonly structures: readonly PlanStructure[];
  /** Of this variogram; that of the maps when absent. */
  readonly anisotropy?: PlanAnisotropy;
}

/** One structure of a typed variogram. */
export interface PlanStructure {
  readonly type: "spherical" | "exponential" | "gaussian" | "matern";
  readonly partialSill: number;
  readonly rangeM: number;
  /** Smoothness; matern only. */
  readonly kappa?: number;
}

/** A shape in a source: record from 1 in a shapefile, feature from 1 in GeoJSON. */
export interface PlanShape {
  readonly source: string;
  readonly record: number;
}

/** One field: its ground, line, samples, crop and guide. */
export interface PlanField extends PlanFieldNeed, PlanFieldDrive {
  /** Stays when the name changes. */
  readonly id: string;
  readonly name: string;
  /** The parts of one field. */
  readonly boundary: readonly PlanShape[];
  /** The line that the rig follows: two points A and B, or more along a curve. */
  readonly guidance: PlanShape;
  /** Path of the source its soil samples come from; not needed where the rates are typed. */
  readonly samples?: string;
  readonly crop: string;
  readonly yieldBuPerAc: number;
  /** Id of a published guide or of one of `ownGuides`. */
  readonly guide: string;
  readonly guideOptions?: Readonly<Record<string, string>>;
  /** Whether a spreader brings what the strip does not. */
  readonly broadcast: "later" | "none";
  /** Middle of the field's plane; the middle of the boundary when absent. */
  readonly frameCentre?: { readonly lonDeg: number; readonly latDeg: number };
  /** Variograms of this field alone. */
  readonly models?: PlanModels;
  readonly switchedOff?: readonly PlanSwitchedOff[];
  /** Values that somebody checked and keeps, though their neighbours deny them. */
  readonly kept?: readonly PlanSwitchedOff[];
}

/** The user's own guide: tables of lb/ac of oxide, by class or on straight lines. */
export interface PlanOwnGuide {
  readonly id: string;
  readonly name: string;
  readonly tables: readonly PlanOwnTable[];
  readonly lineTables?: readonly PlanOwnLineTable[];
}

/** Rates on straight lines between points, level outside them. */
export interface PlanOwnLineTable {
  readonly test: "P" | "K";
  readonly crop: string;
  readonly method: string;
  /** Tests rise; lb/ac of oxide. */
  readonly points: readonly { readonly ppm: number; readonly lbPerAc: number }[];
}

/** A table of rates typed by the user in place of a published guide. */
export interface PlanOwnTable {
  readonly test: "P" | "K";
  readonly crop: string;
  /** Extractant the table is meant for, such as `mehlich-3`. */
  readonly method: string;
  /** Rising class limits; a test on a limit is in the class above it. */
  readonly belowPpm: readonly number[];
  /** lb/ac of oxide, one more than there are limits. */
  readonly lbPerAc: readonly number[];
}
