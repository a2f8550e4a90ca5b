import type { TimeLines } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";

/** Nutrients the split can hold: P and K as oxides, the others as elements. */
export type SplitNutrient = "n" | "p2o5" | "k2o" | "s";

/** lb/ac of the whole field (or $/lb) by nutrient; what is left out is 0, or no limit. */
export type NutrientAmounts = Readonly<Partial<Record<SplitNutrient, number>>>;

/** A product the optimum may use. */
export interface OptimumProduct {
  readonly id: string;
  /** Guaranteed analysis, percent by weight. */
  readonly grade: NutrientAmounts;
  readonly pricePerLb: number;
  /** Where it can go; both when left out. */
  readonly where?: "strip" | "broadcast" | "both";
  /** Most lb/ac that its own meter lays in the strip. */
  readonly stripMostLbPerAc?: number;
}

/** Land with one need. */
export interface OptimumClass {
  readonly id: string;
  readonly fieldId: string;
  readonly areaAc: number;
  /** What strip and broadcast together must bring. */
  readonly needLbPerAc: NutrientAmounts;
  /** What the strip alone must bring: starter, agronomic share. */
  readonly floorLbPerAc?: NutrientAmounts;
  /** Most that strip and broadcast together may bring. */
  readonly mostLbPerAc?: NutrientAmounts;
  /** Most N + K2O + S in the strip, lb per acre of field. */
  readonly saltCapLbPerAc?: number;
  /** Pounds of the need that a pound in the strip stands for; 1 when left out. */
  readonly stripCounts?: NutrientAmounts;
  /** $ a pound of the nutrient is worth more in the strip than broadcast; 0 when unknown. */
  readonly valuePerLb?: NutrientAmounts;
}

/** What `splitOptimum` takes. */
export interface OptimumInput {
  readonly products: readonly OptimumProduct[];
  readonly classes: readonly OptimumClass[];
  /** Target: most lb of all products per acre in the strip, mean over all classes. */
  readonly meanStripLbPerAcMost?: number;
  /** Target: hours for all classes; needs `lines`. */
  readonly hoursMost?: number;
  /** Hours per acre against the rate (`timeLines`). */
  readonly lines?: TimeLines;
  /** $ an hour of the rig is worth, timeliness included; needs `lines`. */
  readonly hourValue?: number;
  /** $/ac of a broadcast pass, paid on the whole field that gets one. */
  readonly passFeePerAc?: number;
  /** False: everything must go in the strip or be short. */
  readonly broadcastAllowed?: boolean;
  /** lb of all products per acre the strip meter can do; a strip rate is 0 or not below the minimum. */
  readonly meterLeastLbPerAc?: number;
  readonly meterMostLbPerAc?: number;
  /** lb of all products per acre below which the spreader cannot go; its rate is 0 or not below. */
  readonly spreaderLeastLbPerAc?: number;
  /** $/lb of nutrient short; by default 100 times the dearest pound, so that a shortage comes last. */
  readonly shortagePricePerLb?: number;
}

/** The optimum's rates on one class. */
export interface OptimumClassRates {
  readonly id: string;
  readonly fieldId: string;
  readonly areaAc: number;
  /** lb/ac, in the order of the products. */
  readonly stripLbPerAc: readonly number[];
  readonly broadcastLbPerAc: readonly number[];
  /** lb nutrient/ac below the need and above it, and of the floor that found no place in the strip. */
  readonly shortLbPerAc: NutrientAmounts;
  readonly overLbPerAc: NutrientAmounts;
  readonly floorShortLbPerAc: NutrientAmounts;
}

/** One field in the optimum. */
export interface OptimumField {
  readonly id: string;
  readonly areaAc: number;
  /** Whether the field gets a broadcast pass. */
  readonly pass: boolean;
  /** Null without time lines. */
  readonly hours: number | null;
  readonly meanStripLbPerAc: number;
  /** $ of the field without and with a pass where both were weighed; null otherwise, and for a way on which the target leaves need without a place. */
  readonly costWithoutPass: number | null;
  readonly costWithPass: number | null;
  /** What one lb less in the strip would save here by time and target, $/lb. */
  readonly dollarsPerStripLb: number;
  readonly bound: "rig" | "tender" | null;
}

/** The optimum: its cost and its rates. */
export interface SplitOptimum {
  /** $: product - placed value + hours + passes, shortage left out. */
  readonly objective: number;
  readonly productCost: number;
  readonly placedValue: number;
  readonly hourCost: number;
  readonly passCost: number;
  readonly classes: readonly OptimumClassRates[];
  readonly fields: readonly OptimumField[];
  readonly meanStripLbPerAc: number;
  readonly hours: number | null;
  readonly worth: StripWorth;
  /** $ by which a better choice of passes could at most beat this one; 0 where the choice is proven. */
  readonly gapDollars: number;
  /** Classes after those with equal figures were put together, and programmes solved. */
  readonly mergedClasses: number;
  readonly solves: number;
  readonly notices: readonly Notice[];
}

/** Worth of one more pound in the strip. */
export interface StripWorth {
  /** $/lb of product; 0 when nothing limits the strip, null where it would bring need that is short, which has no price. */
  readonly dollarsPerLb: number | null;
  readonly limit: "tender" | "rig" | "mean rate" | "none";
  /** "$0.012 a pound; the limit is the tender". */
  readonly words: string;
}
