import { type AssumedFigure, LEVER_LB_PER_AC, type RigCapacity } from "../plan/index.ts";
import { counted, numberText } from "../units/index.ts";
import { assumedByKey } from "./assumed-words.ts";
import { acresText, areaIn, lbText, rateIn, rateText, type UnitSystem, unitWords } from "./numbers.ts";

/** A default in words: `Unconfirmed: rig.work.hoursPerDay 11 h (...)`. */
export const assumedLine = (one: AssumedFigure): string =>
  `${one.status === "unconfirmed" ? "Unconfirmed" : "Published default"}: ${assumedByKey(one)} (${one.source})`;

/** Acres a day so few that they print as none. */
export const gainsNothing = (acPerDay: number): boolean => acPerDay < 0.05;

/** What the loads that count are called: a tender that brings less than the bins take sets them. */
export const loadWord = ({ countedBy }: Pick<RigCapacity, "countedBy">): "tender load" | "fill" =>
  countedBy === "tender" ? "tender load" : "fill";

/** Capacity in the order in which a grower asks: fills, day, who waits, the levers, the meters, what was assumed. */
export function capacityLines(of: RigCapacity, system: UnitSystem = "us"): string[] {
  const n = numberText;
  const units = unitWords(system);
  const lb = (mass: number): string => lbText(mass, system);
  const rate = (lbPerAc: number): string => rateText(lbPerAc, system);
  const ac = (area: number, decimals = 1): string => acresText(area, system, decimals);
  const through = of.binLbPerAc > of.rateLbPerAc ? `, ${rate(of.binLbPerAc)} through the bins` : "";
  const each = of.countedAcPerFill === null ? "" : ` of ${ac(of.countedAcPerFill)} ${units.area}`;
  const why = {
    "full bins": "",
    "whole passes": `${each} where the rig can stop`,
    tender: `${each}: a tender brings less than a fill`,
  }[of.countedBy];
  const fills = `${counted(of.fills, loadWord(of))}${why}`;
  const lines = [
    `${ac(of.areaAc)} ${units.area} at ${rate(of.rateLbPerAc)} ${units.rate}${through}: ${of.acPerFill === null ? "no product" : `${ac(of.acPerFill)} ${units.area} a fill, ${fills}`}; ${of.load.limit} ends a fill`,
  ];
  for (const bin of of.load.bins) {
    const weight =
      bin.byWeightLb === null ? "no limit of weight" : `weight ${lb(bin.byWeightLb)} ${units.mass}`;
    const lasts = bin.acPerFill === null ? "not used" : `${ac(bin.acPerFill)} ${units.area} a fill`;
    lines.push(
      `  bin ${bin.id}, ${bin.product}: ${lb(bin.loadLb)} ${units.mass} go out (volume ${lb(bin.byVolumeLb)} ${units.mass}, ${weight}); ${rate(bin.rateLbPerAc)} ${units.rate} through it, ${lasts}`,
    );
  }
  if (of.load.wall) {
    const sides = of.load.bins.map(
      (bin, b) => `${bin.product} ${lb(of.load.wall!.loadsLb[b]!)} ${units.mass}`,
    );
    lines.push(`  set the movable wall to ${sides.join(", ")}: both run out together`);
  }
  lines.push(
    `${ac(of.acPerDay.steady, 0)} ${units.area} a day steady, ${ac(of.acPerDay.full, 0)} from full, ${ac(of.acPerDay["bin-empty"], 0)} with the bin empty, ${ac(of.acPerDay["all-empty"], 0)} from empty (tenders too); ${n(of.hours, 1)} h in all`,
    of.lines.tender === null
      ? "product is always at hand: no tender is counted"
      : of.bound === "tender"
        ? `the tenders are the limit: the rig waits ${n(of.waitMinutesPerFill, 1)} minutes a ${loadWord(of)}`
        : "the rig is the limit: it waits for no tender",
    of.crossoverLbPerAc === null
      ? "at no rate do the tenders become the limit"
      : `above ${rate(of.crossoverLbPerAc)} ${units.rate} the tenders are the limit`,
    `one ${units.rate} off the strip, every product alike, gains ${n(areaIn(of.acPerDayPerLbPerAc, system) / rateIn(1, system), 3)} ${units.area} a day`,
  );
  if (of.levers) {
    const { gainLowerRateAcPerDay: lower, gainAnotherTenderAcPerDay: tender } = of.levers;
    const trip = of.levers.tripHoursLikeAnotherTender;
    const more = gainsNothing(tender)
      ? "nothing to gain, nor would a shorter trip"
      : `${ac(tender)} ${units.area} a day more${trip === null ? "" : ` (so would a trip of ${n(trip * 60, 0)} min)`}`;
    lines.push(
      `${rate(LEVER_LB_PER_AC)} ${units.rate} off the strip, every product alike: ${ac(lower)} ${units.area} a day more; one more tender: ${more}`,
    );
  }
  for (const meter of of.meters) {
    const most =
      meter.mostLbPerMin === null
        ? "what the meter can do is not told"
        : `the meter can do ${lb(meter.mostLbPerMin)}, so at most ${meter.topMph === null ? "any speed" : `${n(meter.topMph, 1)} mph there`}`;
    lines.push(
      `  meter ${meter.bin}: ${lb(meter.meanLbPerMin)} ${units.mass}/min at the mean rate, ${lb(meter.highestLbPerMin)} at the highest of ${rate(meter.highestLbPerAc)} ${units.rate}; ${most}`,
    );
  }
  if (of.slowedAc > 0)
    lines.push(
      `  a meter holds the rig back on ${ac(of.slowedAc)} ${units.area}: ${n(of.meanMph, 2)} mph in the mean`,
    );
  return [...lines, ...of.assumed.map(assumedLine)];
}
