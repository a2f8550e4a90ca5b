import {
  crossoverRate,
  type DayStart,
  FT_MPH_HOURS_PER_AC,
  hoursAtRate,
  type Levers,
  levers,
  type MeteredClass,
  meterFlow,
  passLoad,
  type Rig,
  speedsByClass,
  type TimeLines,
  tenderList,
  timeLinesOf,
  topSpeed,
  wholePassLoad,
  workRate,
} from "../../capacity/index.ts";
import { sum } from "../../numeric/index.ts";
import { dayAcres } from "./day-acres.ts";
import type { AssumedFigure, RigFigures } from "./rig-figures.ts";
import { linesByMap, type RigLoad, rigLoad } from "./rig-load.ts";

/** The meter of one hopper. */
export interface MeterUse {
  readonly bin: string;
  readonly product: string;
  readonly meanLbPerAc: number;
  readonly highestLbPerAc: number;
  /** lb/min at the speed driven. */
  readonly meanLbPerMin: number;
  readonly highestLbPerMin: number;
  /** Null where the plan does not tell what the meter can do. */
  readonly mostLbPerMin: number | null;
  /** mph the meter allows at its highest rate; null without a limit or a rate. */
  readonly topMph: number | null;
}

/** What a rig does at the rates of a map, or of several. */
export interface RigCapacity {
  readonly areaAc: number;
  /** Mean of all products together by the maps, lb/ac. */
  readonly rateLbPerAc: number;
  /** The same through the bins: overlap and the meter's factor in it. */
  readonly binLbPerAc: number;
  readonly load: RigLoad;
  /** lb a fill that count where stops fall only at ends of passes. */
  readonly countedLoadLb: number;
  /** Acres it lasts; null at a rate of 0. */
  readonly countedAcPerFill: number | null;
  /** Acres that full hoppers last; null at a rate of 0. */
  readonly acPerFill: number | null;
  /** What sets it: full bins, whole passes between stops, or a tender that brings less than the bins take. */
  readonly countedBy: "full bins" | "whole passes" | "tender";
  /** Loads that count, for all acres. */
  readonly fills: number;
  readonly stopMinutes: number;
  /** ac/h while working, at the speed the meters allow. */
  readonly workAcPerHour: number;
  readonly meanMph: number;
  /** Acres in which a meter holds the rig back. */
  readonly slowedAc: number;
  readonly meters: readonly MeterUse[];
  readonly lines: TimeLines;
  /** lb/ac above which the tenders are the limit; null when they never are. */
  readonly crossoverLbPerAc: number | null;
  readonly bound: "rig" | "tender";
  readonly hoursPerAc: number;
  /** For all acres, steady. */
  readonly hours: number;
  readonly acPerHour: number;
  readonly acPerDay: Readonly<Record<"steady" | DayStart, number>>;
  /** Acres a day more for each lb/ac taken off the strip. */
  readonly acPerDayPerLbPerAc: number;
  readonly overallEfficiency: number;
  /** For one load that counts. */
  readonly waitMinutesPerFill: number;
  /** Pounds off the strip beside one more tender; null with product always at hand. */
  readonly levers: Levers | null;
  readonly assumed: readonly AssumedFigure[];
}

/** Loads that differ by less than this share are one. */
const SAME_SHARE = 1e-9;

/** lb/ac taken off the strip in the lever that is shown beside another tender. */
export const LEVER_LB_PER_AC = 20;

/**
 * What the rig does over classes with rates in the order of its hoppers. `passFt`: length of the passes where stops fall
 * only at their ends. Throws `number-not-usable`, `no-usable-load`.
 */
export function rigCapacity(
  figures: RigFigures,
  classes: readonly MeteredClass[],
  passFt: number | null = null,
): RigCapacity {
  const { work, tenders, reachedAt, throughBins, assumed } = figures;
  const areaAc = sum(classes.map((one) => one.areaAc));
  const mean = figures.bins.map(
    (_, b) => sum(classes.map((one) => one.areaAc * (one.ratesLbPerAc[b] ?? 0))) / areaAc,
  );
  const rate = sum(mean);
  const binRate = rate * throughBins;
  const load = rigLoad(
    figures,
    mean.map((one) => one * throughBins),
  );
  const speeds = speedsByClass({
    classes,
    widthFt: work.widthFt,
    wantedMph: work.mph,
    maxLbPerMin: figures.bins.map((bin) => bin.meterMaxLbPerMin ?? 1e12),
    turnEfficiency: work.turnEfficiency,
  });
  const driven = { ...work, mph: speeds.meanMph };
  const passLb = passFt === null || rate === 0 ? 0 : passLoad(passFt, work.widthFt, binRate);
  const whole = passLb > 0 && reachedAt !== null ? wholePassLoad(load.loadLb, passLb, reachedAt) : 0;
  // A load that does not last one pass is filled up in the pass.
  const rigLb = whole || load.loadLb;
  const countedLoadLb = Math.min(tenders?.lb ?? Number.POSITIVE_INFINITY, rigLb);
  const loadForLines = countedLoadLb > 0 ? countedLoadLb : sum(load.bins.map((bin) => bin.loadLb));
  const lines = linesByMap(timeLinesOf(driven, loadForLines, tenders ?? undefined), throughBins);
  const { hoursPerAc, bound, hoursPerLb } = hoursAtRate(lines, rate);
  const rigHours = lines.rig.hoursPerAc + lines.rig.hoursPerLb * rate;
  const crossover = crossoverRate(lines);
  const countedAcPerFill = rate === 0 ? null : countedLoadLb / binRate;
  // The one bin of the calculations stands for all hoppers: its load is given beside it.
  const rig: Rig = { ...driven, ...figures.bins[0]! };
  const day = (start: DayStart): number => oneFieldAcres(rig, loadForLines, binRate, tenders, 0, start);
  return {
    areaAc,
    rateLbPerAc: rate,
    binLbPerAc: binRate,
    load,
    countedLoadLb,
    countedAcPerFill,
    countedBy:
      countedLoadLb < rigLb
        ? "tender"
        : rigLb < load.loadLb * (1 - SAME_SHARE)
          ? "whole passes"
          : "full bins",
    acPerFill: load.acPerFill,
    fills: countedAcPerFill === null ? 0 : Math.ceil(areaAc / countedAcPerFill - 1e-9),
    stopMinutes: 60 * (work.fixedHoursPerStop + loadForLines / work.transferLbPerHour),
    workAcPerHour: workRate(driven),
    meanMph: speeds.meanMph,
    slowedAc: speeds.slowedAc,
    meters: metersOf(figures, classes, mean),
    lines,
    crossoverLbPerAc: Number.isFinite(crossover) ? crossover : null,
    bound,
    hoursPerAc,
    hours: areaAc * hoursPerAc,
    acPerHour: 1 / hoursPerAc,
    acPerDay: {
      steady: work.hoursPerDay / hoursPerAc,
      full: day("full"),
      "bin-empty": day("bin-empty"),
      "all-empty": day("all-empty"),
    },
    acPerDayPerLbPerAc: (work.hoursPerDay * hoursPerLb) / hoursPerAc ** 2,
    overallEfficiency: FT_MPH_HOURS_PER_AC / (hoursPerAc * work.widthFt * work.mph),
    waitMinutesPerFill:
      countedAcPerFill === null ? 0 : 60 * Math.max(0, hoursPerAc - rigHours) * countedAcPerFill,
    levers:
      tenders === null || rate === 0
        ? null
        : levers({
            rig,
            tenders,
            rateLbPerAc: binRate,
            lowerLbPerAc: throughBins * Math.max(0, rate - LEVER_LB_PER_AC),
            countedLoadLb: loadForLines,
          }),
    assumed,
  };
}

/** Acres of a day in one big field. */
function oneFieldAcres(
  rig: Rig,
  loadLb: number,
  rateLbPerAc: number,
  tenders: RigFigures["tenders"],
  moreTenders: number,
  start: DayStart,
): number {
  const list = tenders === null ? null : tenderList({ ...tenders, count: tenders.count + moreTenders });
  return dayAcres({ rig, rateLbPerAc, ...(list === null ? {} : { tenders: list }) }, loadLb, start);
}

function metersOf(
  { bins, work }: RigFigures,
  classes: readonly MeteredClass[],
  mean: readonly number[],
): MeterUse[] {
  return bins.map((bin, b) => {
    const highest = classes.reduce(
      (most, one) => (one.areaAc > 0 ? Math.max(most, one.ratesLbPerAc[b] ?? 0) : most),
      0,
    );
    const most = bin.meterMaxLbPerMin ?? null;
    return {
      bin: bin.id,
      product: bin.product,
      meanLbPerAc: mean[b]!,
      highestLbPerAc: highest,
      meanLbPerMin: meterFlow(mean[b]!, work.widthFt, work.mph),
      highestLbPerMin: meterFlow(highest, work.widthFt, work.mph),
      mostLbPerMin: most,
      topMph: most === null || highest === 0 ? null : topSpeed(highest, work.widthFt, most),
    };
  });
}

/** One rate of the table and of the curve, every product cut or raised alike. */
export interface RatePoint {
  readonly rateLbPerAc: number;
  readonly acPerFill: number | null;
  readonly acPerDay: number;
  readonly bound: "rig" | "tender";
  /** Acres a day on each line alone; null with product always at hand. */
  readonly rigAcPerDay: number;
  readonly tenderAcPerDay: number | null;
  /** With one more tender. */
  readonly anotherTenderAcPerDay: number | null;
  /** A day begun with bin and tenders full, today's tenders and one more. */
  readonly fromFullAcPerDay: number;
  readonly anotherTenderFromFullAcPerDay: number | null;
  /** mph that the slowest meter allows; null without a limit. */
  readonly topMph: number | null;
}

/** Acres a day against the rate, the mix of products as it is in `at`. */
export function ratePoints(
  figures: RigFigures,
  at: RigCapacity,
  ratesLbPerAc: readonly number[],
): RatePoint[] {
  const { work, tenders, throughBins } = figures;
  const { hoursPerDay } = work;
  const driven = { ...work, mph: at.meanMph };
  const load = at.countedLoadLb > 0 ? at.countedLoadLb : sum(at.load.bins.map((bin) => bin.loadLb));
  const now = at.lines;
  const more =
    tenders === null
      ? null
      : linesByMap(timeLinesOf(driven, load, { ...tenders, count: tenders.count + 1 }), throughBins);
  return ratesLbPerAc.map((rate) => {
    const { hoursPerAc, bound } = hoursAtRate(now, rate);
    const tender = now.tender === null ? null : now.tender.hoursPerAc + now.tender.hoursPerLb * rate;
    const shares = at.meters.map((meter) => (at.rateLbPerAc > 0 ? meter.meanLbPerAc / at.rateLbPerAc : 0));
    const tops = at.meters.flatMap((meter, b) =>
      meter.mostLbPerMin === null || shares[b]! * rate === 0
        ? []
        : [topSpeed(shares[b]! * rate, work.widthFt, meter.mostLbPerMin)],
    );
    const fromFull = (extra: number): number =>
      oneFieldAcres({ ...driven, ...figures.bins[0]! }, load, rate * throughBins, tenders, extra, "full");
    return {
      rateLbPerAc: rate,
      fromFullAcPerDay: fromFull(0),
      anotherTenderFromFullAcPerDay: tenders === null ? null : fromFull(1),
      acPerFill: rate === 0 ? null : (at.load.loadLb || load) / (rate * throughBins),
      acPerDay: hoursPerDay / hoursPerAc,
      bound,
      rigAcPerDay: hoursPerDay / (now.rig.hoursPerAc + now.rig.hoursPerLb * rate),
      tenderAcPerDay: tender === null || tender <= 0 ? null : hoursPerDay / tender,
      anotherTenderAcPerDay: more === null ? null : hoursPerDay / hoursAtRate(more, rate).hoursPerAc,
      topMph: tops.length === 0 ? null : Math.min(...tops),
    };
  });
}
