import { meterFlow, topSpeed } from "./meter.ts";
import { requireNumber } from "./require-number.ts";
import { type BinSize, FT_MPH_HOURS_PER_AC, type Rig, type Tenders, workRate } from "./rig.ts";
import { acresPerFill, type BinsFill } from "./several-bins.ts";
import { crossoverRate, hoursAtRate, type TimeLine, timeLinesOf } from "./time-lines.ts";
import { type UsableLoad, usableLoad } from "./usable-load.ts";
import { passLoad, type RefillEnds, wholePassLoad } from "./whole-passes.ts";

/** What `capacity` takes. */
export interface CapacityInput {
  readonly rig: Rig;
  /** lb of all products together per acre of the whole field. */
  readonly rateLbPerAc: number;
  /** Left out: product always at hand. */
  readonly tenders?: Tenders;
  /** Several bins metered alone; they replace the rig's one bin, and their rates must add up to `rateLbPerAc`. */
  readonly bins?: readonly (BinSize & { readonly rateLbPerAc: number })[];
  /** Length of the passes, when stops fall only at their ends. */
  readonly passes?: { readonly passFt: number; readonly refillAt: RefillEnds };
  readonly meterMaxLbPerMin?: number;
}

/** Acres a fill, an hour and a day at one rate, and what limits them. */
export interface Capacity {
  /** ac/h while working. */
  readonly workAcPerHour: number;
  /** Of the one bin; null with several. */
  readonly load: UsableLoad | null;
  /** With several bins; null with one. */
  readonly bins: BinsFill | null;
  /** lb of all bins that go out between two fills; what counts in whole passes when passes are given. */
  readonly countedLoadLb: number;
  /** Acres per fill of the counted load, null at a rate of 0. */
  readonly acPerFill: number | null;
  readonly stopMinutes: number;
  readonly lines: { readonly rig: TimeLine; readonly tender: TimeLine | null };
  /** lb/ac above which the tender is the limit; null when it never is. */
  readonly crossoverLbPerAc: number | null;
  readonly bound: "rig" | "tender";
  readonly hoursPerAc: number;
  readonly acPerHour: number;
  readonly acPerDay: number;
  /** Acres a day more for each lb/ac taken off the strip, at this rate. */
  readonly acPerDayPerLbPerAc: number;
  /** Share of the theoretical rate with everything in it. */
  readonly overallEfficiency: number;
  /** From fill to fill, and what the rig waits in it for the tender; null at a rate of 0. */
  readonly cycleMinutes: number | null;
  readonly waitMinutesPerFill: number | null;
  readonly meterLbPerMin: number;
  /** mph the meter allows at this rate; null without a limit or at a rate of 0. */
  readonly meterTopMph: number | null;
}

/**
 * Steady acres per hour and per day at one rate. A meter slower than the wanted speed is told, not applied: set
 * `rig.mph` to the lower speed or use `speedsByClass`. A load shorter than one pass counts as if stops were
 * possible in the pass. Throws `number-not-usable`, `no-usable-load`.
 */
export function capacity(input: CapacityInput): Capacity {
  const { rig, tenders, passes, meterMaxLbPerMin } = input;
  const rate = requireNumber("rateLbPerAc", input.rateLbPerAc);
  const workAcPerHour = workRate(rig);
  requireNumber("hoursPerDay", rig.hoursPerDay, { above: 0, atMost: 24 });
  const load = input.bins === undefined ? usableLoad(rig) : null;
  const bins = input.bins === undefined ? null : binsFill(input.bins, rate);
  const fullLb = load?.loadLb ?? (bins!.acPerFill === null ? 0 : rate * bins!.acPerFill);
  const countedLoadLb = Math.min(
    tenders?.lb ?? Number.POSITIVE_INFINITY,
    passes === undefined || rate === 0
      ? fullLb
      : wholePassLoad(fullLb, passLoad(passes.passFt, rig.widthFt, rate), passes.refillAt) || fullLb,
  );
  const lines = timeLinesOf(rig, requireNumber("the usable load", countedLoadLb, { above: 0 }), tenders);
  const { hoursPerAc, bound, hoursPerLb } = hoursAtRate(lines, rate);
  const rigHours = lines.rig.hoursPerAc + lines.rig.hoursPerLb * rate;
  const acPerFill = rate === 0 ? null : countedLoadLb / rate;
  const crossover = crossoverRate(lines);
  return {
    workAcPerHour,
    load,
    bins,
    countedLoadLb,
    acPerFill,
    stopMinutes: 60 * (rig.fixedHoursPerStop + countedLoadLb / rig.transferLbPerHour),
    lines,
    crossoverLbPerAc: Number.isFinite(crossover) ? crossover : null,
    bound,
    hoursPerAc,
    acPerHour: 1 / hoursPerAc,
    acPerDay: rig.hoursPerDay / hoursPerAc,
    acPerDayPerLbPerAc: (rig.hoursPerDay * hoursPerLb) / hoursPerAc ** 2,
    overallEfficiency: FT_MPH_HOURS_PER_AC / (hoursPerAc * rig.widthFt * rig.mph),
    cycleMinutes: acPerFill === null ? null : 60 * hoursPerAc * acPerFill,
    waitMinutesPerFill: acPerFill === null ? null : 60 * Math.max(0, hoursPerAc - rigHours) * acPerFill,
    meterLbPerMin: meterFlow(rate, rig.widthFt, rig.mph),
    meterTopMph:
      meterMaxLbPerMin === undefined || rate === 0
        ? null
        : topSpeed(rate, rig.widthFt, requireNumber("meterMaxLbPerMin", meterMaxLbPerMin, { above: 0 })),
  };
}

function binsFill(bins: readonly (BinSize & { readonly rateLbPerAc: number })[], rate: number): BinsFill {
  const fill = acresPerFill(
    bins.map((bin) => ({ loadLb: usableLoad(bin).loadLb, rateLbPerAc: bin.rateLbPerAc })),
  );
  const total = bins.reduce((sum, bin) => sum + bin.rateLbPerAc, 0);
  requireNumber("rateLbPerAc (the sum of the bins' rates)", rate, {
    atLeast: total * (1 - 1e-9),
    atMost: total * (1 + 1e-9),
  });
  return fill;
}
