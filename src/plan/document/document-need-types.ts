import type { PlanPlace } from "./document-drive-types.ts";

/** The two nutrients that are mapped, as oxides. */
export type Oxide = "P2O5" | "K2O";

/** Figures of a guide that somebody compared with the bulletin, or put his own in place of. */
export interface PlanGuideCheck {
  /** Of a published guide. */
  readonly id: string;
  readonly confirmed?: {
    readonly by: string;
    /** Which page, table or section of the bulletin. */
    readonly page: string;
    /** YYYY-MM-DD. */
    readonly date: string;
  };
  /** By the id of the figure, in its unit; the published one is shown beside it. */
  readonly constants?: Readonly<Record<string, number>>;
}

/** One visit with the probe, as far as the file itself does not say. */
export interface PlanSampling {
  /** YYYY-MM-DD; in place of the dates in the file. */
  readonly date?: string;
  readonly depthIn?: number;
  readonly lab?: string;
  /** How the cores lay to old fertilizer bands: `off the bands`, `1 in the row to 3 between`. */
  readonly coresToBands?: string;
}

/** Ground that gets nothing by a method: of a file, or drawn. */
export interface PlanExclusion {
  readonly source?: string;
  /** One shape of the source; all of them when absent. */
  readonly record?: number;
  /** Drawn in place of a source: its corners, all round. */
  readonly corners?: readonly PlanPlace[];
  readonly what: string;
  readonly method: "surface" | "strip" | "both";
  /** Distance kept from the shape, ft; typed, never suggested. */
  readonly setbackFt: number;
}

/** The most that all fields together may take: dollars at the plan's prices, or lb of product. */
export type PlanBudget = { readonly usd: number } | { readonly lb: number };

/** What a field says about one oxide beside the guide it follows. */
export interface PlanNutrient {
  /** Another guide for this nutrient alone. */
  readonly guide?: string;
  readonly guideOptions?: Readonly<Record<string, string>>;
  /** The guide's word for the crop, where it has one of its own for this nutrient. */
  readonly crop?: string;
  /** A conversion of the test, by its name. */
  readonly conversion?: string;
  /** Typed for the test as it is, elemental ppm. */
  readonly criticalLevelPpm?: number;
  /** lb oxide/ac that strip and broadcast bring together, where they bring any. */
  readonly minLbPerAc?: number;
  /** What becomes of less than the minimum; raised when absent. */
  readonly belowMinimum?: "raise" | "leave-out";
  readonly maxLbPerAc?: number;
  /** How the guide's flat addition counts over an application for several crops. */
  readonly additionCounts?: "per crop" | "per application";
}

/** A crop of a later season that the same application is made for. */
export interface PlanLaterCrop {
  readonly crop: string;
  readonly yieldBuPerAc: number;
  readonly residueLbPerAc?: Readonly<Partial<Record<Oxide, number>>>;
  /** Both when absent. */
  readonly nutrients?: readonly Oxide[];
}

/** Nutrients that reach the field beside this plan's products, lb/ac available in the crop year. */
export interface PlanCredit {
  readonly name: string;
  readonly kind: "manure" | "starter" | "other";
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly lbPerAc: Readonly<Partial<Record<Oxide | "N" | "S" | "Zn", number>>>;
}

/** An application of an earlier season that was meant for more than its own. */
export interface PlanEarlier {
  readonly nutrient: Oxide;
  readonly seasonYear: number;
  /** Crop years it was made for, its own season counted. */
  readonly yearsCovered: number;
}

/** A column of rates in a file of the adviser's polygons; what is left out is asked. */
export interface PlanRateColumn {
  readonly column?: string;
  /** Oxide, or the analysis of a product. */
  readonly of?: "oxide" | "11-52-0" | "0-0-60";
  readonly unit?: "lb/ac" | "kg/ha";
}

/** Where the need of a field comes from when not from samples on a grid. */
export type PlanNeedFrom =
  | {
      /** One composite sample a zone, taken as it is; the lab's sample number is the zone's id. */
      readonly kind: "zones";
      readonly source: string;
      readonly idColumn: string;
    }
  | {
      /** The adviser's own rates; no guide is read. */
      readonly kind: "rates";
      readonly source: string;
      readonly rates: Readonly<Partial<Record<Oxide, PlanRateColumn>>>;
    }
  | {
      /** One rate for the whole field: typed, or the guide's flat rate of the mapped tests. */
      readonly kind: "flat";
      readonly lbPerAc?: Readonly<Record<Oxide, number>>;
    };

/** What a field may say about its crops, tests, credits and limits; every key may be absent. */
export interface PlanFieldNeed {
  /** Further sources of samples beside `samples`. */
  readonly moreSamples?: readonly string[];
  /** Samplings by id for each test, and the tests on which several may be mixed; the newest alone when absent. */
  readonly samplings?: Readonly<Partial<Record<TestName, readonly string[]>>> & {
    readonly mix?: readonly TestName[];
  };
  /** Yield goals from a column of polygons, bu/ac; `yieldBuPerAc` elsewhere. */
  readonly yieldZones?: { readonly source: string; readonly column: string };
  /** Of the second crop, where the guide's rate is for two. */
  readonly secondYieldBuPerAc?: number;
  /** Crops in order; of a crop that stands twice, the season's is the first. */
  readonly rotation?: readonly string[];
  /** lb oxide/ac that leave with straw or stover. */
  readonly residueLbPerAc?: Readonly<Partial<Record<Oxide, number>>>;
  /** Crops of later seasons that this application is made for too. */
  readonly alsoFor?: readonly PlanLaterCrop[];
  /** First season the tests in use serve; the season after the sampling when absent. */
  readonly firstSeasonYear?: number;
  readonly earlier?: readonly PlanEarlier[];
  readonly credits?: readonly PlanCredit[];
  readonly nutrients?: Readonly<Partial<Record<Oxide, PlanNutrient>>>;
  readonly needFrom?: PlanNeedFrom;
  /** Wanted on the whole field, lb/ac, counted with what the products bring along. */
  readonly alsoWantedLbPerAc?: Readonly<Partial<Record<"N" | "S" | "Zn", number>>>;
  /** Source of removal factors for the balance sheet where the guide has none. */
  readonly removalFactors?: string;
}

/** The soil tests that are mapped. */
export type TestName = "P" | "K" | "CEC";
