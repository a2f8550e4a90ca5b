import { requireNumber } from "./require-number.ts";
import { type Rig, type RigWork, type Tenders, workRate } from "./rig.ts";
import { usableLoad } from "./usable-load.ts";

/** Hours per acre as a straight line in the rate: `hoursPerAc + hoursPerLb x lb/ac`. */
export interface TimeLine {
  readonly hoursPerAc: number;
  readonly hoursPerLb: number;
}

/** The season's hours per acre lie on the higher of the two lines; `tender` is null with product always at hand. */
export interface TimeLines {
  readonly rig: TimeLine;
  readonly tender: TimeLine | null;
}

/** What `timeLines` takes. */
export interface TimeLinesInput {
  readonly rig: Rig;
  /** Left out: product always at hand. */
  readonly tenders?: Tenders;
  /** lb a load that counts when stops fall only at ends of passes (`wholePassLoad`); the usable load when left out. */
  readonly countedLoadLb?: number;
}

/** Whole bin loads in a tender; a rest smaller than a load does not count, since waiting for it ruins the round. */
export const loadsPerTender = (tenderLb: number, loadLb: number): number =>
  // A tender of m loads computed in floating point may lie a hair below m.
  Math.floor((tenderLb / loadLb) * (1 + 1e-12));

/**
 * The rig line (work, stop and transfer) and the tender line (rounds of n tenders with m loads each).
 * A tender smaller than a bin load makes its own content the load. Throws `number-not-usable`.
 */
export function timeLines(input: TimeLinesInput): TimeLines {
  const { rig, tenders } = input;
  const loadLb = input.countedLoadLb ?? usableLoad(rig).loadLb;
  return timeLinesOf(rig, requireNumber("countedLoadLb", loadLb, { above: 0 }), tenders);
}

/** `timeLines` of a load that is known. */
export function timeLinesOf(rig: RigWork, loadLb: number, tenders?: Tenders): TimeLines {
  const acPerHour = workRate(rig);
  const load = Math.min(
    loadLb,
    tenders === undefined ? loadLb : requireNumber("tenders.lb", tenders.lb, { above: 0 }),
  );
  requireNumber("fixedHoursPerStop", rig.fixedHoursPerStop);
  requireNumber("transferLbPerHour", rig.transferLbPerHour, { above: 0 });
  const rigLine = {
    hoursPerAc: 1 / acPerHour,
    hoursPerLb: rig.fixedHoursPerStop / load + 1 / rig.transferLbPerHour,
  };
  if (tenders === undefined) return { rig: rigLine, tender: null };
  const { count, lb, tripHours } = tenders;
  requireNumber("tenders.count", count, { atLeast: 1 });
  requireNumber("tenders.tripHours", tripHours);
  const loads = loadsPerTender(lb, load);
  const transferHours = load / rig.transferLbPerHour;
  const stopHours = rig.fixedHoursPerStop + transferHours;
  const tender = {
    hoursPerAc: (loads - 1) / (count * loads * acPerHour),
    hoursPerLb: ((loads - 1) * stopHours + transferHours + tripHours) / (count * loads * load),
  };
  return { rig: rigLine, tender };
}

/** Hours an acre at one rate. */
export interface HoursAtRate {
  readonly hoursPerAc: number;
  /** The line in force; rig where they meet. */
  readonly bound: "rig" | "tender";
  /** More hours per acre for one more lb/ac, on the line in force. */
  readonly hoursPerLb: number;
}

/** Hours per acre at a rate, the higher of the lines. */
export function hoursAtRate(lines: TimeLines, rateLbPerAc: number): HoursAtRate {
  const at = (line: TimeLine): number => line.hoursPerAc + line.hoursPerLb * rateLbPerAc;
  const rig = at(lines.rig);
  const tender = lines.tender === null ? Number.NEGATIVE_INFINITY : at(lines.tender);
  // Rates computed as the crossing itself land a rounding above it: they still count for the rig.
  if (tender <= rig * (1 + 1e-12)) {
    return { hoursPerAc: Math.max(rig, tender), bound: "rig", hoursPerLb: lines.rig.hoursPerLb };
  }
  return { hoursPerAc: tender, bound: "tender", hoursPerLb: lines.tender!.hoursPerLb };
}

/** The highest rate, lb/ac, at which both lines lie at or below so many hours an acre; negative when no rate does. */
export const rateAtHours = ({ rig, tender }: TimeLines, hoursPerAc: number): number =>
  Math.min(
    ...[rig, tender].flatMap((line) =>
      line === null ? [] : [(hoursPerAc - line.hoursPerAc) / line.hoursPerLb],
    ),
  );

/** lb/ac above which the tender is the limit; Infinity when it never is. */
export function crossoverRate({ rig, tender }: TimeLines): number {
  // At rate 0 the rig line is the higher one: a round of tenders never starts later than the rig works.
  if (tender === null || tender.hoursPerLb <= rig.hoursPerLb) return Number.POSITIVE_INFINITY;
  return (rig.hoursPerAc - tender.hoursPerAc) / (tender.hoursPerLb - rig.hoursPerLb);
}
