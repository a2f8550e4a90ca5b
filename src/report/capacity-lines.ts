import { type AssumedFigure, LEVER_LB_PER_AC, type RigCapacity } from "../plan/index.ts";
import { counted, numberText } from "../units/index.ts";

/** A default in words: `Unconfirmed: rig.work.hoursPerDay 11 h (...)`. */
export const assumedLine = ({ key, value, unit, status, source }: AssumedFigure): string =>
  `${status === "unconfirmed" ? "Unconfirmed" : "Taken"}: ${key} ${Number(value.toPrecision(6))} ${unit} (${source})`;

/** Acres a day so few that they print as none. */
export const gainsNothing = (acPerDay: number): boolean => acPerDay < 0.05;

/** Capacity in the order in which a grower asks: fills, day, who waits, the levers, the meters, what was assumed. */
export function capacityLines(of: RigCapacity): string[] {
  const n = numberText;
  const through = of.binLbPerAc > of.rateLbPerAc ? `, ${n(of.binLbPerAc, 0)} through the bins` : "";
  const isCounted = of.countedAcPerFill !== null && of.countedAcPerFill < of.acPerFill! * (1 - 1e-9);
  const fills = `${counted(of.fills, "fill")}${isCounted ? ` of ${n(of.countedAcPerFill!, 1)} ac where the rig can stop` : ""}`;
  const lines = [
    `${n(of.areaAc, 1)} ac at ${n(of.rateLbPerAc, 0)} lb/ac${through}: ${of.acPerFill === null ? "no product" : `${n(of.acPerFill, 1)} ac a fill, ${fills}`}; ${of.load.limit} ends a fill`,
  ];
  for (const bin of of.load.bins) {
    const weight = bin.byWeightLb === null ? "no limit of weight" : `weight ${n(bin.byWeightLb, 0)} lb`;
    const lasts = bin.acPerFill === null ? "not used" : `${n(bin.acPerFill, 1)} ac a fill`;
    lines.push(
      `  bin ${bin.id}, ${bin.product}: ${n(bin.loadLb, 0)} lb go out (volume ${n(bin.byVolumeLb, 0)} lb, ${weight}); ${n(bin.rateLbPerAc, 0)} lb/ac through it, ${lasts}`,
    );
  }
  if (of.load.wall) {
    const sides = of.load.bins.map((bin, b) => `${bin.product} ${n(of.load.wall!.loadsLb[b]!, 0)} lb`);
    lines.push(`  set the movable wall to ${sides.join(", ")}: both run out together`);
  }
  lines.push(
    `${n(of.acPerDay.steady, 0)} ac a day steady, ${n(of.acPerDay.full, 0)} from full, ${n(of.acPerDay["bin-empty"], 0)} with the bin empty, ${n(of.acPerDay["all-empty"], 0)} from empty (tenders too); ${n(of.hours, 1)} h in all`,
    of.lines.tender === null
      ? "product is always at hand: no tender is counted"
      : of.bound === "tender"
        ? `the tenders are the limit: the rig waits ${n(of.waitMinutesPerFill, 1)} minutes a fill`
        : "the rig is the limit: it waits for no tender",
    of.crossoverLbPerAc === null
      ? "at no rate do the tenders become the limit"
      : `above ${n(of.crossoverLbPerAc, 0)} lb/ac the tenders are the limit`,
    `one lb/ac off the strip gains ${n(of.acPerDayPerLbPerAc, 3)} ac a day`,
  );
  if (of.levers) {
    const { gainLowerRateAcPerDay: lower, gainAnotherTenderAcPerDay: tender } = of.levers;
    const trip = of.levers.tripHoursLikeAnotherTender;
    const more = gainsNothing(tender)
      ? "nothing to gain, nor would a shorter trip"
      : `${n(tender, 1)} ac a day more${trip === null ? "" : ` (so would a trip of ${n(trip * 60, 0)} min)`}`;
    lines.push(
      `${LEVER_LB_PER_AC} lb/ac off the strip: ${n(lower, 1)} ac a day more; one more tender: ${more}`,
    );
  }
  for (const meter of of.meters) {
    const most =
      meter.mostLbPerMin === null
        ? "what the meter can do is not told"
        : `the meter can do ${n(meter.mostLbPerMin, 0)}, so at most ${meter.topMph === null ? "any speed" : `${n(meter.topMph, 1)} mph there`}`;
    lines.push(
      `  meter ${meter.bin}: ${n(meter.meanLbPerMin, 0)} lb/min at the mean rate, ${n(meter.highestLbPerMin, 0)} at the highest of ${n(meter.highestLbPerAc, 0)} lb/ac; ${most}`,
    );
  }
  if (of.slowedAc > 0)
    lines.push(
      `  a meter holds the rig back on ${n(of.slowedAc, 1)} ac: ${n(of.meanMph, 2)} mph in the mean`,
    );
  return [...lines, ...of.assumed.map(assumedLine)];
}
