import type { PlanCapacity, RatePoint } from "../../plan/index.ts";
import { assumedLine, capacityLines } from "../../report/index.ts";
import type { CapacityResult } from "../calculations/capacity.ts";

/** `capacity PLAN` in words: the farm, rates around today's, each field. */
export function capacityOfPlanWords({ all, fields }: PlanCapacity, points: readonly RatePoint[]): string {
  const lines = [...capacityLines(all), "", "lb/ac   ac/fill   ac/day   limit    top mph"];
  for (const point of points) {
    lines.push(
      [
        point.rateLbPerAc.toFixed(0).padStart(5),
        (point.acPerFill?.toFixed(1) ?? "-").padStart(9),
        point.acPerDay.toFixed(0).padStart(8),
        `  ${point.bound}`.padEnd(9),
        (point.topMph?.toFixed(1) ?? "-").padStart(8),
      ].join(" "),
    );
  }
  if (fields.length > 1) {
    lines.push("", "field                        ac   lb/ac  ac/fill  fills  ac/day  limit");
    for (const { name, capacity: one } of fields) {
      lines.push(
        [
          name.padEnd(24).slice(0, 24),
          one.areaAc.toFixed(1).padStart(7),
          one.rateLbPerAc.toFixed(0).padStart(7),
          (one.acPerFill?.toFixed(1) ?? "-").padStart(8),
          String(one.fills).padStart(6),
          one.acPerDay.steady.toFixed(0).padStart(7),
          ` ${one.bound}`,
        ].join(" "),
      );
    }
  }
  return lines.join("\n");
}

/** `capacity --input` in words. */
export function capacityWords({ rates, assumed }: CapacityResult): string {
  const { load, lines, crossoverLbPerAc } = rates[0]!;
  const line = ({ hoursPerAc, hoursPerLb }: { hoursPerAc: number; hoursPerLb: number }): string =>
    `${hoursPerAc.toPrecision(6)} + ${hoursPerLb.toPrecision(6)} x lb/ac hours per acre`;
  const out = [
    ...(load
      ? [
          `load ${load.loadLb.toFixed(0)} lb, limited by ${load.limit} (volume ${load.byVolumeLb.toFixed(0)}, weight ${load.byWeightLb?.toFixed(0) ?? "no limit"})`,
        ]
      : []),
    `rig line     ${line(lines.rig)}`,
    ...(lines.tender ? [`tender line  ${line(lines.tender)}`] : ["product always at hand: no tender line"]),
    ...(lines.tender
      ? [
          crossoverLbPerAc === null
            ? "the tenders are never the limit"
            : `the tenders are the limit above ${crossoverLbPerAc.toFixed(1)} lb/ac`,
        ]
      : []),
    "",
    "lb/ac  ac/fill   ac/h  steady ac/day  from full  from empty  limit   wait min  meter lb/min  top mph",
  ];
  for (const at of rates) {
    out.push(
      [
        at.rateLbPerAc.toFixed(0).padStart(5),
        (at.acPerFill?.toFixed(1) ?? "-").padStart(8),
        at.acPerHour.toFixed(2).padStart(6),
        at.acPerDay.toFixed(1).padStart(14),
        at.dayFromFullAc.toFixed(1).padStart(10),
        at.dayFromEmptyAc.toFixed(1).padStart(11),
        ` ${at.bound.padEnd(6)}`,
        (at.waitMinutesPerFill?.toFixed(2) ?? "-").padStart(9),
        at.meterLbPerMin.toFixed(1).padStart(13),
        (at.meterTopMph?.toFixed(2) ?? "-").padStart(8),
      ].join(" "),
    );
  }
  return [...out, ...assumed.map(assumedLine)].join("\n");
}
