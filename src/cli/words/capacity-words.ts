import type { PlanCapacity, RatePoint } from "../../plan/index.ts";
import {
  acresText,
  assumedLine,
  capacityLines,
  lbText,
  loadWord,
  rateText,
  textTable,
} from "../../report/index.ts";
import { counted, numberText, UNKNOWN } from "../../units/index.ts";
import type { CapacityResult } from "../calculations/capacity.ts";

/** `capacity PLAN` in words: the farm, rates around today's, each field. */
export function capacityOfPlanWords({ all, fields }: PlanCapacity, points: readonly RatePoint[]): string {
  const lines = [
    ...capacityLines(all),
    "",
    ...textTable([
      ["lb/ac", "ac a fill", "ac a day", "limit", "top mph"],
      ...points.map((point) => [
        rateText(point.rateLbPerAc),
        orUnknown(point.acPerFill, 1),
        numberText(point.acPerDay, 0),
        point.bound,
        orUnknown(point.topMph, 1),
      ]),
    ]),
  ];
  if (fields.length > 1) {
    lines.push(
      "",
      ...textTable([
        ["field", "ac", "lb/ac", "ac a fill", "loads", "ac a day", "limit"],
        ...fields.map(({ name, capacity: one }) => [
          name,
          acresText(one.areaAc),
          rateText(one.rateLbPerAc),
          orUnknown(one.acPerFill, 1),
          counted(one.fills, loadWord(one)),
          numberText(one.acPerDay.steady, 0),
          one.bound,
        ]),
      ]),
    );
  }
  return lines.join("\n");
}

/** `capacity --input` in words. */
export function capacityWords({ rates, assumed }: CapacityResult): string {
  const { load, lines, crossoverLbPerAc } = rates[0]!;
  const line = ({ hoursPerAc, hoursPerLb }: { hoursPerAc: number; hoursPerLb: number }): string =>
    `${hoursPerAc.toPrecision(6)} + ${hoursPerLb.toPrecision(6)} x lb/ac hours per acre`;
  const tenders =
    lines.tender === null
      ? ["product always at hand: no tender line"]
      : [
          `tender line  ${line(lines.tender)}`,
          crossoverLbPerAc === null
            ? "the tenders are never the limit"
            : `the tenders are the limit above ${numberText(crossoverLbPerAc, 1)} lb/ac`,
        ];
  return [
    ...(load
      ? [
          `load ${lbText(load.loadLb)} lb, limited by ${load.limit} (volume ${lbText(load.byVolumeLb)}, weight ${load.byWeightLb === null ? "no limit" : lbText(load.byWeightLb)})`,
        ]
      : []),
    `rig line     ${line(lines.rig)}`,
    ...tenders,
    "",
    ...textTable([
      [
        "lb/ac",
        "ac a fill",
        "ac/h",
        "steady ac a day",
        "from full",
        "from empty",
        "limit",
        "wait min",
        "meter lb/min",
        "top mph",
      ],
      ...rates.map((at) => [
        rateText(at.rateLbPerAc),
        orUnknown(at.acPerFill, 1),
        numberText(at.acPerHour, 2),
        numberText(at.acPerDay, 1),
        numberText(at.dayFromFullAc, 1),
        numberText(at.dayFromEmptyAc, 1),
        at.bound,
        orUnknown(at.waitMinutesPerFill, 2),
        numberText(at.meterLbPerMin, 1),
        orUnknown(at.meterTopMph, 2),
      ]),
    ]),
    ...assumed.map(assumedLine),
  ].join("\n");
}

const orUnknown = (value: number | null, decimals: number): string =>
  value === null ? UNKNOWN : numberText(value, decimals);
