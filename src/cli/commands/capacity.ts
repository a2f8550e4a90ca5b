import { z } from "zod";
import { type Capacity, capacity, operationsDefault, tenderList, workDay } from "../../capacity/index.ts";
import {
  type AssumedFigure,
  type PlanCapacity,
  planCapacity,
  type RatePoint,
  ratePoints,
} from "../../plan/index.ts";
import { assumedLine, capacityLines } from "../../report/index.ts";
import { planOrInput, type ReadShape, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { runPlan } from "../run-plan.ts";

/** `capacity PLAN` or `capacity --input X.json`: acres a fill, an hour, a day, and who waits. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "Says what the rig does at the rates of the plan's strip maps: acres a fill by weight and volume, the",
    "line of the rig and that of the tenders, the rate where the tenders become the limit, acres a day",
    "steady, from full and from empty, meter flow and the speed it allows. The plan tells the rig by",
    "rig.work, the bins' volumeFt3 and tender (docs/split.md). With --input the calculation alone, on the",
    "figures of a JSON file (docs/split.md). What no source gives is shown as unconfirmed: type your own.",
  ].join("\n"),
  options: ["input", "field", "answer"],
  run: ofPlanOrInput,
};

async function ofPlanOrInput(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "capacity");
  return "input" in given
    ? ofInput(await readCalculation(call, given.input))
    : await ofPlan(call, given.plan);
}

async function ofPlan(call: Call, operand: string): Promise<Outcome> {
  const { result } = await runPlan(call, operand);
  const found = planCapacity(result);
  const points = ratePoints(found.figures, found.all, aroundRates(found.all.rateLbPerAc));
  return {
    exit: result.refused.length > 0 ? exit.partly : exit.done,
    data: planWords(found, points),
    json: { ...found, points },
  };
}

/** Rates of the table: round steps up to well over today's. */
function aroundRates(rate: number): number[] {
  const step = rate > 300 ? 100 : 50;
  const most = Math.max(step * 4, Math.ceil((1.5 * rate) / step) * step);
  return Array.from({ length: most / step }, (_, i) => (i + 1) * step);
}

function planWords({ all, fields }: PlanCapacity, points: readonly RatePoint[]): string {
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

const Plus = z.number().positive();
const Zero = z.number().min(0);
const binKeys = {
  binFt3: Plus,
  lbPerFt3: Plus,
  weightLimitLb: z.exactOptional(Plus),
  residualLb: z.exactOptional(Zero),
  fillFactor: z.exactOptional(Plus),
};
const Input = z.strictObject({
  rig: z.strictObject({
    ...binKeys,
    widthFt: Plus,
    mph: Plus,
    turnEfficiency: z.exactOptional(Plus),
    fixedHoursPerStop: z.exactOptional(Zero),
    transferLbPerHour: z.exactOptional(Plus),
    hoursPerDay: z.exactOptional(Plus),
  }),
  ratesLbPerAc: z.array(Zero).min(1),
  tenders: z.exactOptional(
    z.strictObject({ count: z.int().min(1), lb: Plus, tripHours: z.exactOptional(Zero) }),
  ),
  passes: z.exactOptional(z.strictObject({ passFt: Plus, refillAt: z.enum(["one-end", "both-ends"]) })),
  meterMaxLbPerMin: z.exactOptional(Plus),
});

interface AtRate extends Capacity {
  readonly rateLbPerAc: number;
  readonly dayFromFullAc: number;
  readonly dayFromEmptyAc: number;
}

function ofInput(read: ReadShape): Outcome {
  const { rig: typed, tenders: typedTenders, ...input } = read(Input);
  const assumed: AssumedFigure[] = [];
  const filled = <Key extends string>(
    keys: readonly Key[],
    at: string,
    have: object,
  ): Record<Key, number> => {
    const found = keys.flatMap((key) => {
      if (key in have) return [];
      const { value, unit, status, source } = operationsDefault(key);
      assumed.push({ key: `${at}.${key}`, value, unit, status, source });
      return [[key, value] as const];
    });
    return Object.fromEntries(found) as Record<Key, number>;
  };
  const rig = {
    ...filled(
      ["turnEfficiency", "fixedHoursPerStop", "transferLbPerHour", "hoursPerDay", "residualLb", "fillFactor"],
      "rig",
      typed,
    ),
    ...typed,
  };
  const tenders = typedTenders && { ...filled(["tripHours"], "tenders", typedTenders), ...typedTenders };
  const rates = input.ratesLbPerAc.map((rateLbPerAc): AtRate => {
    const { ratesLbPerAc: _, ...rest } = input;
    const steady = capacity({ ...rest, rig, rateLbPerAc, ...(tenders ? { tenders } : {}) });
    const day = (start: "full" | "bin-empty"): number =>
      workDay(
        {
          rig,
          rateLbPerAc,
          loadLb: steady.countedLoadLb,
          ...(tenders ? { tenders: tenderList(tenders) } : {}),
        },
        start,
      ).acres;
    return { rateLbPerAc, ...steady, dayFromFullAc: day("full"), dayFromEmptyAc: day("bin-empty") };
  });
  return { exit: exit.done, data: inputWords(rates, assumed), json: { rates, assumed } };
}

function inputWords(rates: readonly AtRate[], assumed: readonly AssumedFigure[]): string {
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
