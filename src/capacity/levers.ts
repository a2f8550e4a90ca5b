import { requireNumber } from "./require-number.ts";
import type { Rig, Tenders } from "./rig.ts";
import { crossoverRate, hoursAtRate, loadsPerTender, type TimeLine, timeLinesOf } from "./time-lines.ts";
import { usableLoad } from "./usable-load.ts";

/** Acres a day at one setting. */
export interface LeverPoint {
  readonly acPerDay: number;
  readonly bound: "rig" | "tender";
}

/** Acres a day by the two levers, a lower rate and another tender, alone and together. */
export interface Levers {
  readonly today: LeverPoint;
  readonly lowerRate: LeverPoint;
  readonly anotherTender: LeverPoint;
  readonly both: LeverPoint;
  /** Acres a day gained by each alone. */
  readonly gainLowerRateAcPerDay: number;
  readonly gainAnotherTenderAcPerDay: number;
  /** Trip hours at which today's tenders would do what another tender does; null when no trip is short enough. */
  readonly tripHoursLikeAnotherTender: number | null;
  /** lb/ac above which the tenders are the limit, today and with one more; null when they never are. */
  readonly crossoverLbPerAc: number | null;
  readonly crossoverWithAnotherLbPerAc: number | null;
}

/** Both levers side by side: pounds off the strip, and one more tender like the others. Steady acres a day. */
export function levers(input: {
  readonly rig: Rig;
  readonly tenders: Tenders;
  readonly rateLbPerAc: number;
  readonly lowerLbPerAc: number;
  /** lb a load that counts, where it is not the rig's one bin (several bins, whole passes). */
  readonly countedLoadLb?: number;
}): Levers {
  const { rig, tenders } = input;
  const loadLb = input.countedLoadLb ?? usableLoad(rig).loadLb;
  const rate = requireNumber("rateLbPerAc", input.rateLbPerAc, { above: 0 });
  const lower = requireNumber("lowerLbPerAc", input.lowerLbPerAc);
  const now = timeLinesOf(rig, loadLb, tenders);
  const more = timeLinesOf(rig, loadLb, { ...tenders, count: tenders.count + 1 });
  const point = (lines: typeof now, at: number): LeverPoint => {
    const { hoursPerAc, bound } = hoursAtRate(lines, at);
    return { acPerDay: rig.hoursPerDay / hoursPerAc, bound };
  };
  const today = point(now, rate);
  const lowerRate = point(now, lower);
  const anotherTender = point(more, rate);
  const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
  return {
    today,
    lowerRate,
    anotherTender,
    both: point(more, lower),
    gainLowerRateAcPerDay: lowerRate.acPerDay - today.acPerDay,
    gainAnotherTenderAcPerDay: anotherTender.acPerDay - today.acPerDay,
    tripHoursLikeAnotherTender: tripFor(
      loadLb,
      tenders,
      now.tender!,
      rate,
      hoursAtRate(more, rate).hoursPerAc,
    ),
    crossoverLbPerAc: finite(crossoverRate(now)),
    crossoverWithAnotherLbPerAc: finite(crossoverRate(more)),
  };
}

/** The longest trip at which the tender line is not above `hoursPerAc`; the line moves with the trip alone. */
function tripFor(
  binLoadLb: number,
  tenders: Tenders,
  line: TimeLine,
  rate: number,
  hoursPerAc: number,
): number | null {
  const loadLb = Math.min(binLoadLb, tenders.lb);
  const perTripHour = rate / (tenders.count * loadsPerTender(tenders.lb, loadLb) * loadLb);
  const trip = tenders.tripHours - (line.hoursPerAc + line.hoursPerLb * rate - hoursPerAc) / perTripHour;
  return trip < 0 ? null : trip;
}
