import type { LeverPoint } from "../../capacity/index.ts";
import type { Notice } from "../../errors/index.ts";
import type { FieldChase, PlanterChase, SwitchDate, WetHours } from "../../season/index.ts";
import type { AssumedFigure } from "../rig/rig-figures.ts";

/** A field in working order with its dates. */
export interface SeasonFieldRow {
  readonly fieldId: string;
  readonly name: string;
  readonly areaAc: number;
  readonly leftAc: number;
  /** Nothing that prints is left: its dates are null, its days and waiting 0. */
  readonly isDone: boolean;
  /** lb of all products an acre through the bins: the strip files', with overlap and meter factor. */
  readonly meanStripLbPerAc: number;
  readonly acPerFill: number | null;
  readonly acPerHour: number;
  readonly bound: "rig" | "tender";
  /** Minutes the rig waits at a fill for the tender. */
  readonly waitMinutesPerFill: number;
  readonly hours: number;
  /** Whole workable days from the start until it is done. */
  readonly workableDays: number;
  /** Null without workable days in the plan, and of a field that is done. */
  readonly date80: string | null;
  readonly date50: string | null;
  /** Fuller picture with planters; null without any. */
  readonly chase: FieldChase | null;
}

/** The finish date at one persistence of the weather. */
export interface FinishAt {
  readonly persistence: number;
  readonly date80: string | null;
  readonly date50: string | null;
  readonly date20: string | null;
  /** Chance of being done by the end of each day, from the start until it is all but sure. */
  readonly byDay: readonly { readonly date: string; readonly chance: number }[];
}

/** One planter against the strip rig ahead of it. */
export interface PlanterRow {
  readonly id: string;
  readonly acres: number;
  readonly startsOn: string;
  /** Workable days expected (median) before it starts. */
  readonly workableDaysBefore: number;
  readonly chase: PlanterChase;
  /** Chance that the strips are far enough ahead when it starts. */
  readonly leadChance: number | null;
}

/** Hours of humid air in one stretch of the season, for one product. */
export interface HumidityRow {
  readonly from: string;
  readonly to: string;
  readonly product: string;
  readonly limitPercent: number;
  readonly limitStatus: string;
  readonly hours: WetHours;
  /** The night's humidity lies above the limit: bins and tenders are emptied. */
  readonly emptyAtNight: boolean;
}

/** When a coated blend gives way to the plain one. */
export interface CoatedRow {
  readonly switch: SwitchDate;
  /** Acres of the coated blend to order, and the whole fields worked last that get the plain one. */
  readonly orderAc: number | null;
  readonly expectedAc: number | null;
  readonly plainFields: readonly string[];
  readonly plainAc: number;
}

/** The season of a plan. */
export interface SeasonOfPlan {
  readonly start: string | null;
  readonly fields: readonly SeasonFieldRow[];
  readonly acres: number;
  readonly hours: number;
  readonly workableDays: number;
  /** Acres a day: begun with full bins and tenders, begun empty, and without the day's start. */
  readonly acPerDayFromFull: number;
  readonly acPerDayFromEmpty: number;
  readonly acPerDaySteady: number;
  /** 80 % date first; the persistence of the plan, then none. */
  readonly finish: readonly FinishAt[];
  readonly levers: {
    /** Through the bins, every product alike. */
    readonly lowerLbPerAc: number;
    readonly today: LeverPoint;
    readonly lowerRate: LeverPoint;
    readonly anotherTender: LeverPoint | null;
    readonly tripHoursLikeAnotherTender: number | null;
  };
  readonly planters: readonly PlanterRow[];
  readonly humidity: readonly HumidityRow[];
  readonly coated: CoatedRow | null;
  readonly notices: readonly Notice[];
  readonly assumed: readonly AssumedFigure[];
}
