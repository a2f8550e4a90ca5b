import type { OrderEntry } from "../../order/index.ts";
/** Where a tender may stand in a field. */
export interface PlanTenderPlace {
  readonly id: string;
  readonly field: string;
  readonly lonDeg: number;
  readonly latDeg: number;
}

/** How the rig is filled. Without places the tender drives along the headland to the rig. */
export interface PlanFills {
  readonly places?: readonly PlanTenderPlace[];
  /** `last-to-need` when absent: each bin full, or what is left to do of it and the reserve where that is less; `full`: always full; `to-need`: what lasts to the next stop, and the reserve. */
  readonly load?: "full" | "to-need" | "last-to-need";
  /** Measured: 0.03 = a meter that may deliver 3 % more than it logs. */
  readonly meterErrorShare?: number;
  /** True over logged pounds of the last meter check. */
  readonly meterFactor?: number;
  /** Speed on the headland to a tender at a place; 4 mph when absent, unconfirmed. */
  readonly headlandMph?: number;
  /** How often the tender may move during a field, and minutes lost by it; 0 when absent. */
  readonly mostMoves?: number;
  readonly moveMinutes?: number;
  /** lb of a tender's compartments, in the order of the bins; in proportion to the loads when absent. */
  readonly compartmentsLb?: readonly number[];
}

/** A planter that follows the strip rig. */
export interface PlanPlanter {
  readonly id: string;
  readonly acPerDay: number;
  /** First day it may plant, YYYY-MM-DD. */
  readonly startsOn: string;
  /** Its fields in its order; with one planter all of them when absent. */
  readonly fields?: readonly string[];
}

/** Workable days a week: suitable for field work, as observers count them. */
export interface PlanWorkableDays {
  readonly from: string;
  readonly to: string;
  readonly daysPerWeek: number;
}

/** Mean humidity of the open air, percent: the morning's maximum and the afternoon's minimum. */
export interface PlanHumidity {
  readonly from: string;
  readonly to: string;
  readonly morningPercent: number;
  readonly afternoonPercent: number;
}

/** A coated or otherwise better blend that gives trouble in humid air. */
export interface PlanCoated {
  /** Products of the plan it holds; all bins when absent. */
  readonly products?: readonly string[];
  /** Points the coating takes off the critical humidity; typed, no figure was found. */
  readonly coatingPoints: number;
  /** Day-to-day standard deviation of the afternoon reading, points. */
  readonly sdPoints: number;
  /** Hours lost on a day that never dries, and $ an hour of the rig. */
  readonly hoursLost: number;
  readonly usdPerHour: number;
  /** $/ac it is worth more than the plain blend, and $/ac of it left over. */
  readonly benefitUsdPerAc: number;
  readonly leftOverUsdPerAc: number;
}

/** The season's days, order of fields, planters and humidity. */
export interface PlanSeason {
  /** First day that may be worked, YYYY-MM-DD. */
  readonly start: string;
  /** Fields in working order; the plan's order when absent. */
  readonly order?: readonly string[];
  readonly workableDays?: readonly PlanWorkableDays[];
  /** False: 0.7 day a week less. */
  readonly sundaysWorked?: boolean;
  /** How much a workable day makes the next one likelier, 0 to 1; 0.5 when absent, unconfirmed. */
  readonly persistence?: number;
  /** Fold, road, load the map: minutes a field change; 30 when absent, unconfirmed. */
  readonly fieldChangeMinutes?: number;
  readonly planters?: readonly PlanPlanter[];
  /** Strips must be so many workable days ahead of the planter; 1 when absent. */
  readonly leadDays?: number;
  readonly humidity?: readonly PlanHumidity[];
  /** Working hours of the day, 8 to 20 when absent. */
  readonly workFromHour?: number;
  readonly workToHour?: number;
  readonly coated?: PlanCoated;
}

/** Where a product comes from and what is at hand of it. */
export interface PlanOrderTerms {
  readonly product: string;
  readonly supplier: string;
  readonly freightUsdPerTon?: number;
  readonly onHandLb?: number;
  /** What is still to order is whole lots of these tons; `USUAL_LOT_TONS` when absent, whole loads by choice. */
  readonly lotTons?: number;
}

/** What is bought where, on what terms, and the record of it. */
export interface PlanOrder {
  readonly terms?: readonly PlanOrderTerms[];
  /** Share applied twice and share lost; when absent those of `operationsDefaults`: a published mean, and 0 (unconfirmed). */
  readonly overlapShare?: number;
  readonly lossShare?: number;
  readonly book?: readonly OrderEntry[];
}

/** What a field got and gave in an earlier season, by its ledger; shown, never credited by itself. */
export interface PlanCarried {
  readonly field: string;
  readonly seasonYear: number;
  readonly crop: string;
  readonly state: string;
  readonly placedLbPerAc: { readonly P2O5: number; readonly K2O: number };
  readonly yieldBuPerAc?: number;
}

/** Keys of a plan for the work of the season. */
export interface PlanSeasonKeys {
  readonly fills?: PlanFills;
  readonly season?: PlanSeason;
  readonly order?: PlanOrder;
  readonly carried?: readonly PlanCarried[];
}
