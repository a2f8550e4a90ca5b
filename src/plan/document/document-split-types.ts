import type { SaltThresholds } from "../../split/index.ts";
import type { Oxide } from "./document-need-types.ts";

/** Percent by weight, P and K as oxides. */
export type PlanGrade = Readonly<
  Partial<Record<"N" | "P2O5" | "K2O" | "S" | "Mg" | "Zn" | "B" | "Mn" | "Cu", number>>
>;

/** A product as the user types it from its label. */
export interface PlanProduct {
  readonly id: string;
  readonly name: string;
  readonly grade: PlanGrade;
  readonly lbPerFt3?: { readonly low: number; readonly high: number };
  readonly saltIndex?: number;
  readonly criticalHumidityPercent?: number;
  readonly sizeGuideNumber?: { readonly low: number; readonly high: number };
}

/** A micronutrient coated on what a bin holds: it goes where that goes. */
export interface PlanCoating {
  readonly element: "Zn" | "B" | "Mn" | "Cu";
  /** lb of the element on a short ton. */
  readonly lbPerTon: number;
  /** lb element/ac wanted everywhere. */
  readonly wantedLbPerAc?: number;
}

/** Keys of a bin that tell what goes with its product. */
export interface PlanBinUse {
  /** lb product/ac laid everywhere; for products that bring neither P2O5 nor K2O. */
  readonly flatLbPerAc?: number;
  readonly coated?: readonly PlanCoating[];
}

/** Several products in one bin at one ratio. */
export interface PlanBlend {
  /** Named as the product of a bin. */
  readonly id: string;
  /** Products in it. */
  readonly of: readonly string[];
  /** How its ratio is found: so that both needs are covered with the least excess, or with the least worth of too much and too
   * little; typed shares. */
  readonly fit: "cover-both" | "least-misfit" | "typed";
  /** Shares by weight in the order of `of`; typed only. */
  readonly shares?: readonly number[];
  /** What a cell is given: enough for both needs; what its misfit costs least by; or no more than either needs. */
  readonly rate?: "cover-both" | "least-misfit" | "no-excess";
  /** How many ratios over the plan's fields, one a field; 1 when absent. */
  readonly ratios?: number;
  /** $ a lb of oxide too little, for least-misfit; too much costs its price. */
  readonly usdPerLbShort?: Readonly<Partial<Record<Oxide, number>>>;
  readonly batchLb?: number;
  /** Smallest pounds the scale is read to. */
  readonly stepLb?: number;
  /** Products that come in bags, lb a bag. */
  readonly bagLb?: Readonly<Record<string, number>>;
}

/** How the need is divided between strip and spreader; docs/split.md says what each does. */
export type SplitMethod = "ceiling" | "share" | "priority" | "optimum";

/** Parts of the need that leave the strip one after the other, the last one first. */
export type SplitLayer =
  | "below-critical-P2O5"
  | "below-critical-K2O"
  | "maintenance-P2O5"
  | "maintenance-K2O"
  | "build-up-P2O5"
  | "build-up-K2O";

/** Keys of `split` beside the cap. */
export interface PlanSplitWay {
  /** Common ceiling when absent. */
  readonly method?: SplitMethod;
  /** lb oxide/ac of the need that stays in the strip before anything else. */
  readonly starterLbPerAc?: Readonly<Partial<Record<Oxide, number>>>;
  /** What stays in the strip first; priority only. */
  readonly order?: readonly SplitLayer[];
  /** One ceiling for all cells, or a part of the need everywhere before the next anywhere; priority only. */
  readonly across?: "cell" | "field";
  /** The cap is the mean rate at which the rig still does so many acres a day; in place of capLbPerAc. */
  readonly acresPerDay?: number;
  /** When the spreader comes. */
  readonly broadcastWhen?: "after-harvest" | "before-crop" | "in-crop";
  /** What is put in place of 1 lb P2O5 in the strip below the guide's critical level, for every guide or by guide id; 1
   * when absent, never below 0.5. */
  readonly bandFactorP2O5?: number | Readonly<Record<string, number>>;
  readonly optimum?: PlanOptimum;
}

/** Money of the optimum. */
export interface PlanOptimum {
  /** Whether the cap holds; time and passes decide alone when false. */
  readonly capHolds?: boolean;
  /** $ an hour of the rig, timeliness included. */
  readonly usdPerRigHour?: number;
  /** $/ac of a broadcast pass, on the whole field that gets one. */
  readonly usdPerAcPass?: number;
  /** $ a lb of oxide is worth more in the strip than broadcast. */
  readonly usdPerLbPlaced?: Readonly<Partial<Record<Oxide, number>>>;
  /** Most N and S of strip and broadcast together, lb/ac. */
  readonly mostLbPerAc?: Readonly<Partial<Record<"N" | "S", number>>>;
}

/** What lies near the seed; what is absent was not answered. */
export interface PlanSeed {
  /** Nearest distance of the band to the seed, inches. */
  readonly distanceIn?: number;
  readonly bandDepthIn?: number;
  readonly texture?: "sandy" | "other";
  /** Cells with a lower exchange capacity count as sandy, meq/100 g. */
  readonly sandyBelowCecMeq?: number;
  readonly calcareous?: boolean;
  /** Planter starter, lb/ac. */
  readonly starterLbPerAc?: Readonly<Partial<Record<"N" | "K2O" | "S", number>>>;
  /** Whether the starter lies where the strip band lies; counts as so until answered. */
  readonly starterSharesPlace?: boolean;
  readonly boronLbPerAc?: number;
  /** False: the strip is flagged and not cut to the limit. */
  readonly cutToLimit?: boolean;
  readonly thresholds?: Readonly<Partial<SaltThresholds>>;
  /** Who took note of salt above the 2 x 2 limit beyond 3 in. */
  readonly acknowledged?: { readonly by: string; readonly date: string };
}
