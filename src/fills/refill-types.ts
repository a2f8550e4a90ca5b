import type { Notice } from "../errors/index.ts";

/** A place the tender can stand at. */
export interface RefillPlace {
  readonly id: string;
  /**
   * Minutes of a stop after pass 1, 2, ... n - 1 without the transfer (drive there, position, drive back less the drive
   * saved); null where the rig cannot fill. One entry a pass; what follows the last pass is not a stop.
   */
  readonly stopMinutes: readonly (number | null)[];
}

export type RefillLoad = "full" | "to-need" | "last-to-need";

export interface RefillInput {
  /** lb of each pass in working order, one figure a bin. */
  readonly passLb: readonly (readonly number[])[];
  /** Usable lb of each full load. */
  readonly usableLoadLb: readonly number[];
  /** Usable lb that each bin can hold, where that is more than a load; the load when left out. */
  readonly holdsLb?: readonly number[];
  /** Usable lb that nothing is loaded beyond, all bins together; what full loads are together when left out or less than they are. */
  readonly togetherLb?: number;
  /** lb in each bin at the start, no more than it can hold; a full load when left out. */
  readonly firstLoadLb?: readonly number[];
  /** True: nothing is laid before a stop, whatever the bins hold. */
  readonly fillsFirst?: boolean;
  readonly places: readonly RefillPlace[];
  /** How often the tender may move during the field; 0 when left out. The first place is free to choose. */
  readonly mostMoves?: number;
  /** Minutes the rig loses by a move; 0 when left out. */
  readonly moveMinutes?: number;
  /** Share of a load kept back; 0.05 when left out (unconfirmed). The larger of this and `meterErrorShare` counts. */
  readonly reserveShare?: number;
  /** Measured meter error, share: 0.03 = the meter may deliver 3 % more than it logs. */
  readonly meterErrorShare?: number;
  /**
   * `full`: fill up at each stop. `to-need`: only what the next leg takes, and the reserve; nothing into a bin that holds the leg's
   * pounds and the reserve's share of them. `last-to-need`: each bin full, or what the rest of the work takes of it and the
   * reserve where that is less. `full` when left out.
   */
  readonly load?: RefillLoad;
}

export interface RefillStop {
  /** The stop is after this pass, counted from 1; 0 is before the first one. */
  readonly afterPass: number;
  readonly placeId: string;
  /** Usable lb expected in each bin on arrival. */
  readonly expectedLb: readonly number[];
  /** lb to load into each bin. */
  readonly loadLb: readonly number[];
  /** Usable lb with which a bin that gets nothing lasts until after pass `enoughTo`, a reserve on those pounds with it; null where it gets some, or the rig carries no more. */
  readonly enoughLb: readonly (number | null)[];
  readonly enoughTo: number;
  readonly minutes: number;
}

/** A place in the work where nothing is loaded: what the scales must read there for the load to last, before the rig goes on. */
export interface RefillLook {
  /** After this pass, counted from 1. */
  readonly afterPass: number;
  /** Usable lb expected in each bin. */
  readonly expectedLb: readonly number[];
  /** Usable lb with which each bin lasts until after pass `enoughTo`, a reserve on those pounds with it. */
  readonly enoughLb: readonly number[];
  readonly enoughTo: number;
}

export interface RefillLeg {
  /** From after pass `from` to after pass `to`. */
  readonly from: number;
  readonly to: number;
  /** lb of each bin that go out. */
  readonly lb: readonly number[];
}

export interface RefillPlan {
  readonly feasible: true;
  /** Minutes of all stops, transfer left out. */
  readonly minutes: number;
  readonly stops: readonly RefillStop[];
  readonly looks: readonly RefillLook[];
  readonly legs: readonly RefillLeg[];
  /** Usable lb in each bin before the first pass and after the last. */
  readonly startLb: readonly number[];
  readonly endLb: readonly number[];
  /** lb kept back of each bin. */
  readonly reserveLb: readonly number[];
  /** Pounds carried: sum over passes of the mean weight in all bins during the pass. */
  readonly carriedLbPasses: number;
  readonly notices: readonly Notice[];
}

export interface NoRefillPlan {
  readonly feasible: false;
  /** `pass-over-load`: one pass takes more than a full bin. `no-stop-in-reach`: the bin runs out before an allowed stop. */
  readonly reason: "pass-over-load" | "no-stop-in-reach";
  /** The first pass that cannot be finished, counted from 1, and the bin, counted from 0. */
  readonly pass: number;
  readonly bin: number;
  /** lb that pass (or the way to it from the last allowed stop) takes, and lb at hand, the reserve taken off. */
  readonly neededLb: number;
  readonly atHandLb: number;
  /** What can be done about it. */
  readonly remedy: string;
  readonly message: string;
}
