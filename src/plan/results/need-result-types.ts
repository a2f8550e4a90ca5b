import type { GuideStatus } from "../../agronomy/index.ts";
import type { Notice } from "../../errors/index.ts";
import type { MultiPolygon } from "../../geo/index.ts";

/** A guide as it must be shown beside a rate that follows it. */
export interface GuideShown {
  readonly id: string;
  readonly title: string;
  readonly publication: string;
  readonly region: string;
  readonly edition: string;
  readonly supersededBy: string | null;
  /** `unconfirmed` while figures from memory stand that nobody compared with the bulletin. */
  readonly status: GuideStatus;
  readonly confirmed: { readonly by: string; readonly page: string; readonly date: string } | null;
  /** Figures that the plan put in place of the guide's, of those used here. */
  readonly overridden: readonly {
    readonly id: string;
    readonly what: string;
    readonly unit: string;
    readonly value: number;
    readonly published: number;
  }[];
  /** Ids of the figures used here, in the guide's order, and of those that are from memory. */
  readonly used: readonly string[];
  readonly fromMemory: readonly string[];
}

/** Acres and pounds of a class or range of the guide: `below critical`, `maintenance`, the name of a class. */
export interface NeedBand {
  readonly band: string;
  readonly areaAc: number;
  /** lb oxide of need, the figure that drives the rates. */
  readonly lb: number;
}

/** How the need of one oxide in one field came from a guide. */
export interface NeedRule {
  readonly guide: GuideShown;
  /** In the guide's words, the crop of the season first. */
  readonly crops: readonly string[];
  /** Extractant and finish of the test. */
  readonly method: string;
  readonly conversion: string | null;
  /** Typed by the user in place of the guide's, ppm. */
  readonly ownCriticalLevelPpm: number | null;
  readonly bands: readonly NeedBand[];
  /**
   * By the mapped test; null where the guide has no critical level. `samples` where they are too few for a map: which ground
   * lies below is then not known, and how many of them do is.
   */
  readonly belowCritical: {
    readonly areaAc: number;
    readonly lb: number;
    readonly samples?: { readonly below: number; readonly of: number };
  } | null;
  /** Acres whose test lies within 10 % of a step of the guide, and the steps met, in the guide's unit. */
  readonly nearJumps: { readonly acres: number; readonly jumps: readonly number[] };
  /** `year 2 of 4 of build-up`; null where the guide builds nothing up. */
  readonly buildUp: string | null;
  /** Crop years that one application covers. */
  readonly yearsCovered: number;
  /** How the guide's flat addition was counted over several crops; null where nobody had to say. */
  readonly additionCounts: "per crop" | "per application" | null;
}

/** How many seasons stand covered: by an application of this season, or by an earlier one. */
export interface Cover {
  readonly coveredThrough: number | null;
  readonly by: "this application" | "an earlier application" | null;
}

/** What strip and broadcast together are to bring, lb oxide/ac over the cells, and why it is not the need. */
export interface Wanted {
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
  readonly P2O5: WantedParts;
  readonly K2O: WantedParts;
  /** Where the parts lie that are shortage or excess of the need. */
  readonly meant: { readonly P2O5: MeantGaps; readonly K2O: MeantGaps };
  readonly notices: readonly Notice[];
}

/** Short of the need and over it before anything is placed, lb oxide on each cell; null where nothing is. */
export interface MeantGaps {
  /** Maximum, what is left out below the minimum, budget, ground that both methods are kept off. */
  readonly shortLb: Float64Array | null;
  /** What credits bring beyond the need, and what is raised to the minimum. */
  readonly overLb: Float64Array | null;
}

/**
 * Pounds of oxide of a field. need = wanted + credits - creditsBeyondNeed + overMaximum + leftOut + overBudget +
 * excluded - raised.
 */
export interface WantedParts {
  readonly wantedLb: number;
  /** All that credits bring. */
  readonly creditsLb: number;
  readonly creditsBeyondNeedLb: number;
  readonly overMaximumLb: number;
  /** Less than the minimum rate and left out. */
  readonly leftOutLb: number;
  /** Put on top to reach the minimum rate. */
  readonly raisedLb: number;
  readonly overBudgetLb: number;
  /** Of ground that both methods are kept off. */
  readonly excludedLb: number;
}

/** What of shortage and excess was meant, lb oxide; the rest is left by segments, steps and what bins hold. */
export interface BalanceReasons {
  readonly overMaximumLb: number;
  readonly leftOutLb: number;
  readonly overBudgetLb: number;
  /** Kept off by exclusions, of both methods or of pieces that touch them. */
  readonly excludedLb: number;
  /** Left out on purpose: pounds banded below critical stand for more of the need. */
  readonly bandedLb: number;
  /** Parts of the excess. */
  readonly raisedLb: number;
  readonly creditsBeyondNeedLb: number;
}

/** Nitrogen, sulfur or zinc of a field, lb. */
export interface AlsoWanted {
  readonly nutrient: "N" | "S" | "Zn";
  /** Null where the plan wants none. */
  readonly wantedLb: number | null;
  /** Comes along with the products as the files place them. */
  readonly alongLb: number;
  readonly creditsLb: number;
  /** Still to be brought by something else. */
  readonly leftLb: number | null;
  readonly beyondLb: number | null;
}

/** Ground that exclusions keep a method off, over the cells. */
export interface Excluded {
  /** Share of each cell's ground. */
  readonly strip: Float64Array;
  readonly surface: Float64Array;
  readonly both: Float64Array;
  readonly areaAc: { readonly strip: number; readonly surface: number; readonly both: number };
  /** The ground itself, metres in the field's plane. */
  readonly ground: { readonly strip: MultiPolygon; readonly surface: MultiPolygon };
  /** What is kept clear of, with the setback, ft, and the acres of the field it takes. */
  readonly places: readonly {
    readonly what: string;
    readonly method: "surface" | "strip" | "both";
    readonly setbackFt: number;
    readonly areaAc: number;
  }[];
}

/** Least, mean and most of a test that is shown and changes no rate. */
export interface ShownTest {
  readonly samples: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}
