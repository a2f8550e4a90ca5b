import { hoursAtRate, levers, type Rig, type RigWork, timeLinesOf, workDay } from "../capacity/index.ts";
import { InputError, type Notice } from "../errors/index.ts";
import type { FieldStand } from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import { dateOf, dayNumber, seasonPlan, type WeatherInput } from "../season/index.ts";
import type { Plan } from "./document-types.ts";
import { fieldWorkRate } from "./field-work-rate.ts";
import { FIELD_CHANGE_MINUTES, fillAssumed, PERSISTENCE, seasonAssumed } from "./fill-assumed.ts";
import { fieldLoads } from "./fill-loads.ts";
import { orderShares } from "./order-shares.ts";
import { type RigFigures, rigFigures } from "./rig-figures.ts";
import { chasePlanters } from "./season-chase.ts";
import { coatedBlend, humidityRows } from "./season-humidity.ts";
import type { SeasonFieldRow, SeasonOfPlan } from "./season-plan-types.ts";
import { type DrivenField, workedPasses } from "./worked-passes.ts";

/** What if: figures in place of the plan's, and what is done already. */
export interface SeasonOptions {
  /** YYYY-MM-DD; the plan's start when left out. */
  readonly start?: string;
  readonly tenders?: number;
  readonly mph?: number;
  readonly hoursPerDay?: number;
  /** Share of the strip's pounds that is left in it. */
  readonly stripShare?: number;
  /** Where the ledger says fields stand. */
  readonly stands?: readonly FieldStand[];
  /** lb/ac of the lower rate beside today's; four fifths of today's when left out. */
  readonly lowerLbPerAc?: number;
}

/**
 * The season from the strip files and the plan's rig: fields in working order with hours and dates (8 years of 10 first),
 * acres a day from full, from empty and steady, both levers, planters, humidity. Throws `rig-not-told` and what the
 * calculations throw.
 */
export function seasonOfPlan(
  plan: Plan,
  fields: readonly DrivenField[],
  options: SeasonOptions = {},
): SeasonOfPlan {
  const rig = withOptions(rigFigures(plan), options);
  const { tenders } = rig;
  const moveHours = (plan.season?.fieldChangeMinutes ?? FIELD_CHANGE_MINUTES) / 60;
  const ordered = inWorkingOrder(plan, fields);
  const pounds =
    (options.stripShare ?? 1) * (1 + orderShares(plan).overlapShare) * (plan.fills?.meterFactor ?? 1);
  const rows = ordered.map((field) => {
    const passes = workedPasses(plan, field);
    const lb = rig.bins.map((_, b) => pounds * sum(passes.map((pass) => pass.lb[b]!)));
    const areaAc = sum(passes.map((pass) => pass.areaAc));
    const loads = fieldLoads(rig, lb);
    // The bin that is empty first ends a fill: what goes out of all of them until then is the load that counts.
    const share = Math.min(
      ...lb.map((one, b) => (one > 0 ? loads.usableLb[b]! / one : Number.POSITIVE_INFINITY)),
    );
    const loadLb = Number.isFinite(share) ? share * sum(lb) : sum(loads.usableLb);
    const rate = fieldWorkRate({ ...plan, rig: { ...plan.rig, ...withSpeed(plan, options) } }, rig, passes);
    const work = workAt(rig.work, rate.acPerHour);
    const lines = timeLinesOf(work, loadLb, tenders ?? undefined);
    const stand = options.stands?.find((one) => one.fieldId === field.field.id);
    const done =
      stand === undefined ? 0 : stand.frozen || stand.state === "stripped" ? areaAc : stand.strippedAc;
    return { field, areaAc, lb: sum(lb), loadLb, rate, lines, doneAc: Math.min(areaAc, done) };
  });
  const weather = weatherOf(plan, options);
  const planned = seasonPlan({
    ...(weather ?? everyDay(startOf(plan, options))),
    fields: rows.map(({ field, areaAc, lb, lines, doneAc }) => ({
      id: field.field.id,
      areaAc,
      meanStripLbPerAc: lb / areaAc,
      doneAc,
      moveHours,
      lines,
    })),
    // A farm of no fields left has no hours; the lines of the first stand for it.
    lines: rows[0]!.lines,
    hoursPerDay: rig.work.hoursPerDay,
  });
  const dated = weather !== null;
  const table = rows.map((row, i): SeasonFieldRow => {
    const { id, leftAc, hours, bound, workableDays, date80, date50 } = planned.fields[i]!;
    const meanStripLbPerAc = row.lb / row.areaAc;
    const at = hoursAtRate(row.lines, meanStripLbPerAc);
    const rigHours = row.lines.rig.hoursPerAc + row.lines.rig.hoursPerLb * meanStripLbPerAc;
    const acPerFill = row.lb > 0 ? (row.loadLb / row.lb) * row.areaAc : null;
    return {
      fieldId: id,
      name: row.field.field.name,
      areaAc: row.areaAc,
      leftAc,
      meanStripLbPerAc,
      acPerFill,
      acPerHour: 1 / at.hoursPerAc,
      bound,
      waitMinutesPerFill: acPerFill === null ? 0 : 60 * Math.max(0, at.hoursPerAc - rigHours) * acPerFill,
      hours,
      workableDays,
      date80: dated ? date80 : null,
      date50: dated ? date50 : null,
      chase: null,
    };
  });
  const notices: Notice[] = [];
  if (!dated) {
    const message =
      "no workable days are typed: hours and workable days are told, no dates (season.workableDays)";
    notices.push({ code: "no-workable-days", message, where: "season" });
  }
  const days = dayFigures(rig, rows, moveHours);
  const chased = chasePlanters(plan, table, planned, weather, rig.work.hoursPerDay, farmLines(rig, rows));
  notices.push(...chased.notices);
  const acres = sum(table.map((row) => row.leftAc));
  return {
    start: plan.season === undefined && options.start === undefined ? null : startOf(plan, options),
    fields: table.map((row, i) => ({ ...row, chase: chased.fields[i] ?? null })),
    acres,
    hours: planned.hours,
    workableDays: planned.finish.workableDays,
    ...days,
    finish: weather === null ? [] : bothPersistences(planned.finish, weather),
    levers: leversOf(rig, rows, options),
    planters: chased.planters,
    humidity: humidityRows(plan, rig),
    coated: coatedBlend(plan, rig, table, weather, days.acPerDaySteady),
    notices,
    assumed: [...fillAssumed(plan, rig, rows[0]!.rate), ...seasonAssumed(plan)],
  };

  function bothPersistences(finish: typeof planned.finish, given: WeatherInput): SeasonOfPlan["finish"] {
    const dates = (one: typeof finish, persistence: number) => ({
      persistence,
      date80: one.date80,
      date50: one.date50,
      date20: one.date20,
    });
    const first = dates(finish, given.persistence);
    if (given.persistence === 0) return [first];
    const plain = seasonPlan({
      ...given,
      persistence: 0,
      fields: planned.fields.map((one, i) => ({
        id: one.id,
        areaAc: rows[i]!.areaAc,
        meanStripLbPerAc: rows[i]!.lb / rows[i]!.areaAc,
        doneAc: rows[i]!.doneAc,
        moveHours,
        lines: rows[i]!.lines,
      })),
      lines: rows[0]!.lines,
      hoursPerDay: rig.work.hoursPerDay,
    });
    return [first, dates(plain.finish, 0)];
  }
}

interface Row {
  readonly areaAc: number;
  readonly lb: number;
  readonly loadLb: number;
  readonly rate: { readonly acPerHour: number };
  readonly doneAc: number;
  readonly field: DrivenField;
}

/** A rig whose one bin holds just the load that counts. */
const loadRig = (work: RigWork, loadLb: number): Rig => ({
  ...work,
  binFt3: loadLb,
  lbPerFt3: 1,
  residualLb: 0,
});

/** The rig with the turn efficiency that gives the acres an hour. */
function workAt(work: RigWork, acPerHour: number): RigWork {
  const full = (work.widthFt * work.mph) / (43_560 / 5_280);
  return { ...work, turnEfficiency: Math.min(1, acPerHour / full) };
}

/** Means over the acres not done: one field that stands for the farm. */
function farmMean(rows: readonly Row[]): { loadLb: number; rateLbPerAc: number; acPerHour: number } {
  const left = rows.some((row) => row.areaAc > row.doneAc)
    ? rows.map((row) => row.areaAc - row.doneAc)
    : rows.map((row) => row.areaAc);
  const total = sum(left);
  const rateLbPerAc = sum(rows.map((row, i) => (row.lb / row.areaAc) * left[i]!)) / total;
  const hours = sum(rows.map((row, i) => left[i]! / row.rate.acPerHour));
  // Fills add up: acres over acres a fill.
  const fills = sum(rows.map((row, i) => ((row.lb / row.areaAc) * left[i]!) / row.loadLb));
  return {
    rateLbPerAc,
    acPerHour: total / hours,
    loadLb: fills > 0 ? (rateLbPerAc * total) / fills : rows[0]!.loadLb,
  };
}

function farmLines(rig: RigFigures, rows: readonly Row[]): ReturnType<typeof timeLinesOf> {
  const { loadLb, acPerHour } = farmMean(rows);
  return timeLinesOf(workAt(rig.work, acPerHour), loadLb, rig.tenders ?? undefined);
}

/** A day on the farm's mean acre, moves between fields in it as they come. */
function dayFigures(
  rig: RigFigures,
  rows: readonly Row[],
  moveHours: number,
): Pick<SeasonOfPlan, "acPerDayFromFull" | "acPerDayFromEmpty" | "acPerDaySteady"> {
  const { loadLb, rateLbPerAc, acPerHour } = farmMean(rows);
  const work = workAt(rig.work, acPerHour);
  const { hoursPerAc } = hoursAtRate(timeLinesOf(work, loadLb, rig.tenders ?? undefined), rateLbPerAc);
  const meanFieldAc = sum(rows.map((row) => row.areaAc)) / rows.length;
  const fields = Array.from({ length: 60 }, (_, i) => ({
    id: `${i}`,
    areaAc: meanFieldAc,
    rateLbPerAc,
    moveHours: i === 0 ? 0 : moveHours,
  }));
  const { tenders } = rig;
  const day = {
    rig: loadRig(work, loadLb),
    loadLb,
    fields,
    ...(tenders === null
      ? {}
      : {
          tenders: Array.from({ length: tenders.count }, () => ({
            lb: tenders.lb,
            tripHours: tenders.tripHours,
          })),
        }),
  };
  return {
    acPerDayFromFull: workDay(day, "full").acres,
    acPerDayFromEmpty: workDay(day, "all-empty").acres,
    acPerDaySteady: rig.work.hoursPerDay / (hoursPerAc + moveHours / meanFieldAc),
  };
}

/** Both levers in steady acres a day on the farm's mean acre, moves left out. */
function leversOf(rig: RigFigures, rows: readonly Row[], options: SeasonOptions): SeasonOfPlan["levers"] {
  const { loadLb, rateLbPerAc, acPerHour } = farmMean(rows);
  const lowerLbPerAc = options.lowerLbPerAc ?? 0.8 * rateLbPerAc;
  const work = workAt(rig.work, acPerHour);
  if (rig.tenders !== null && rateLbPerAc > 0) {
    const both = levers({ rig: loadRig(work, loadLb), tenders: rig.tenders, rateLbPerAc, lowerLbPerAc });
    const { today, lowerRate, anotherTender, tripHoursLikeAnotherTender } = both;
    return { lowerLbPerAc, today, lowerRate, anotherTender, tripHoursLikeAnotherTender };
  }
  const lines = timeLinesOf(work, loadLb);
  const at = (rate: number) => {
    const { hoursPerAc, bound } = hoursAtRate(lines, rate);
    return { acPerDay: rig.work.hoursPerDay / hoursPerAc, bound };
  };
  return {
    lowerLbPerAc,
    today: at(rateLbPerAc),
    lowerRate: at(lowerLbPerAc),
    anotherTender: null,
    tripHoursLikeAnotherTender: null,
  };
}

/** The fields given, in the season's order; those it does not name come after it, in the plan's order. */
export function inWorkingOrder<T extends { readonly field: { readonly id: string } }>(
  plan: Plan,
  fields: readonly T[],
): T[] {
  const order = plan.season?.order ?? [];
  const place = (id: string): number => (order.includes(id) ? order.indexOf(id) : order.length);
  return fields.toSorted((a, b) => place(a.field.id) - place(b.field.id));
}

const startOf = (plan: Plan, options: SeasonOptions): string =>
  options.start ?? plan.season?.start ?? `${plan.seasonYear}-04-01`;

function weatherOf(plan: Plan, options: SeasonOptions): WeatherInput | null {
  const { workableDays, sundaysWorked = true, persistence = PERSISTENCE } = plan.season ?? {};
  if (workableDays === undefined) return null;
  const start = startOf(plan, options);
  // Before the first entry its chance holds, as after the last one: the user sees both dates.
  const first = workableDays.reduce((a, b) => (a.from <= b.from ? a : b));
  const early = start < first.from ? [{ ...first, from: start, to: dateOf(dayNumber(first.from) - 1) }] : [];
  return {
    start,
    persistence,
    chances: [...early, ...workableDays].map(({ from, to, daysPerWeek }) => ({
      from,
      to,
      chance: Math.max(0, daysPerWeek - (sundaysWorked ? 0 : 0.7)) / 7,
    })),
  };
}

/** Every day workable: for hours and days, never for dates. */
const everyDay = (start: string): WeatherInput => ({
  start,
  persistence: 0,
  chances: [{ from: start, to: start, chance: 1 }],
});

function withOptions(rig: RigFigures, options: SeasonOptions): RigFigures {
  const { tenders: count, mph, hoursPerDay } = options;
  if (count !== undefined && rig.tenders === null) {
    throw new InputError(
      "no-tender",
      "the plan has no tender: product is always at hand",
      "Type tender.lb and tender.tripMin in the plan first.",
    );
  }
  return {
    ...rig,
    work: {
      ...rig.work,
      ...(mph === undefined ? {} : { mph }),
      ...(hoursPerDay === undefined ? {} : { hoursPerDay }),
    },
    tenders: rig.tenders === null || count === undefined ? rig.tenders : { ...rig.tenders, count },
  };
}

const withSpeed = (plan: Plan, { mph }: SeasonOptions): Partial<Plan["rig"]> =>
  mph === undefined || plan.rig.work === undefined ? {} : { work: { ...plan.rig.work, mph } };
