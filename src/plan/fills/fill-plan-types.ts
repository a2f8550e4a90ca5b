import type { Notice } from "../../errors/index.ts";
import type { NoRefillPlan, RefillPlan, RefillTimes } from "../../fills/index.ts";
import type { Point } from "../../geo/index.ts";
import type { AssumedFigure } from "../rig/rig-figures.ts";
import type { FieldWorkRate } from "./field-work-rate.ts";

/** A halt to fill, as operator and tender read it. Lists go by the rig's bins. */
export interface FillStop {
  readonly number: number;
  /** Passes done, and the number of the last of them. */
  readonly passesDone: number;
  readonly pass: number;
  /** That number as sheets and display have it: `24`, `H1` on the headland. */
  readonly passName: string;
  /** Headland the rig stands on, or the tender's place. */
  readonly at: string;
  readonly end: "A" | "B";
  /** lb that can be metered expected in each bin, and lb that are to be loaded. */
  readonly expectedLb: readonly number[];
  readonly loadLb: readonly number[];
  /** The same with what cannot be metered out: what the bin's scale shows before and after. */
  readonly scaleBeforeLb: readonly number[];
  readonly scaleAfterLb: readonly number[];
  /** What the scale of a bin that gets nothing must show at least, to last until `enoughTo` passes are done; null where it gets some. */
  readonly enoughScaleLb: readonly (number | null)[];
  readonly enoughTo: number;
  /** Acres and minutes of work since the stop before. */
  readonly acres: number;
  readonly workMinutes: number;
  /** Null where the tender's times could not be worked out. */
  readonly waitMinutes: number | null;
  readonly arriveHour: number | null;
  /** lb that the tender lacked for this load when it drove off for more; null where it did not drive off for this load. */
  readonly shortLb: number | null;
  /** Minutes of the stop without the transfer. */
  readonly stopMinutes: number;
  /** Where the rig stands, field's plane, metres. */
  readonly place: Point;
}

/** Where the scales are read and nothing is loaded: no stop of the tender. Lists go by the rig's bins. */
export interface FillLook {
  /** Passes done, and the number of the last of them. */
  readonly passesDone: number;
  readonly pass: number;
  /** That number as sheets and display have it: `24`, `H1` on the headland. */
  readonly passName: string;
  /** What the scales show, and what they must show at least to last until `enoughTo` passes are done. */
  readonly scaleLb: readonly number[];
  readonly enoughScaleLb: readonly number[];
  readonly enoughTo: number;
}

/** One way to begin and to place the tender, beside the one taken. */
export interface FillChoice {
  /** `begin at A, tender at the B end`. */
  readonly id: string;
  /** Null without a plan. */
  readonly minutes: number | null;
  readonly stops: number | null;
}

/** A plan that begins with filling where the rig stands. */
export interface FillHere {
  /** Headland the rig stands on, or the tender's place. */
  readonly at: string;
  /** Minutes of all stops and their number; null where the tender is not there. */
  readonly minutes: number | null;
  readonly stops: number | null;
}

/** Where to stop and fill in a field. */
export interface FieldFills {
  readonly fieldId: string;
  /** In the rig's order; of a blend with several ratios the field's own. */
  readonly bins: readonly { readonly id: string; readonly product: string }[];
  /** Working order. */
  readonly passes: readonly {
    readonly pass: number;
    /** `24`, `H1` on the headland. */
    readonly passName: string;
    readonly areaAc: number;
    readonly lb: readonly number[];
    /** Usable lb in each bin when the pass is done, below 0 where it runs out; null without a plan. */
    readonly leftLb: readonly number[] | null;
  }[];
  /** lb of each bin that the whole field takes: the files' pounds with overlap and the meter factor. */
  readonly fieldLb: readonly number[];
  /** The same of the passes that are not done yet, with the factor of this fill besides. */
  readonly leftLb: readonly number[];
  /** By which more leaves the bins than the plan's meter check says, as told with where the rig stands; 1 else. */
  readonly meterFactor: number;
  readonly overlapShare: number;
  /** lb that can be metered out of full loads; lb beside what stays in that the bins have room for; lb that stay in. */
  readonly usableLb: readonly number[];
  readonly holdsLb: readonly number[];
  readonly residualLb: readonly number[];
  /** What sets the loads. */
  readonly loadsBy: "bins" | "rig" | "wall";
  /** Acres full bins last at the mean rates of the passes that are not done yet, and the bin that ends them; null where nothing is placed. */
  readonly acPerFill: number | null;
  readonly firstEmptyBin: number | null;
  readonly workRate: FieldWorkRate;
  /** False where product is always at hand: no waits are counted then. */
  readonly hasTender: boolean;
  readonly beginAt: "A" | "B";
  readonly choice: string;
  /** Every case looked at, best first. */
  readonly choices: readonly FillChoice[];
  readonly plan: RefillPlan | NoRefillPlan;
  /** Filling first where the rig stands; null before the first pass, where the plan does so, and where no stop is needed. */
  readonly fillHere: FillHere | null;
  /** Minutes that running until nearly empty takes more; null where there is no plan to compare. */
  readonly habitMoreMinutes: number | null;
  /**
   * The smallest first load for as many stops and minutes, as the bins' scales show it, and the passes the rig then stops
   * after: not those of `stops`. Null without a plan or a stop.
   */
  readonly firstLoad: { readonly scaleLb: readonly number[]; readonly afterPass: readonly string[] } | null;
  /** What the scales show when the last pass is done; null without a plan. */
  readonly endScaleLb: readonly number[] | null;
  readonly stops: readonly FillStop[];
  readonly looks: readonly FillLook[];
  readonly times: RefillTimes | null;
  readonly notices: readonly Notice[];
  readonly assumed: readonly AssumedFigure[];
}
