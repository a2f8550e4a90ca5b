import { hoursAtRate, timeLinesOf } from "../../capacity/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { type SeasonPlan, seasonPlan, type WeatherInput } from "../../season/index.ts";
import type { Plan } from "../document/document-types.ts";
import { fieldWorkRate } from "../fills/field-work-rate.ts";
import { FIELD_CHANGE_MINUTES, fillAssumed, seasonAssumed } from "../fills/fill-assumed.ts";
import { fieldLoads } from "../fills/fill-loads.ts";
import { type DrivenField, workedPasses } from "../fills/worked-passes.ts";
import { type RigFigures, rigFigures } from "../rig/rig-figures.ts";
import { chasePlanters } from "./season-chase.ts";
import { dayFigures, farmLines, leversOf, workAt } from "./season-days.ts";
import {
  coatedBlend,
  coatedNotices,
  heldProducts,
  humidityRows,
  unknownHumidityNotices,
} from "./season-humidity.ts";
import type { SeasonFieldRow, SeasonOfPlan } from "./season-plan-types.ts";
import { dayAfter, everyDay, startNotices, startOf, weatherOf, workedAfterStart } from "./season-weather.ts";

/** What if: figures in place of the plan's, and what is done already. */
export interface SeasonOptions {
  /** YYYY-MM-DD; when left out the plan's start, or the day after the ledger's last strips where that is later. */
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
  const ordered = inWorkingOrder(plan, fields);
  const rig = withOptions(rigFigures(plan, ordered[0]?.laid), options);
  const { tenders } = rig;
  const moveHours = (plan.season?.fieldChangeMinutes ?? FIELD_CHANGE_MINUTES) / 60;
  const pounds = (options.stripShare ?? 1) * rig.throughBins;
  const rows = ordered.map((field) => {
    // Fields may get blends of their own, each with its density.
    const rigThere = withOptions(rigFigures(plan, field.laid), options);
    const passes = workedPasses(plan, field);
    const lb = rig.bins.map((_, b) => pounds * sum(passes.map((pass) => pass.lb[b]!)));
    const areaAc = sum(passes.map((pass) => pass.areaAc));
    const loads = fieldLoads(rigThere, lb);
    // The bin that is empty first ends a fill: what goes out of all of them until then is the load that counts.
    const share = Math.min(
      ...lb.map((one, b) => (one > 0 ? loads.usableLb[b]! / one : Number.POSITIVE_INFINITY)),
    );
    const loadLb = Number.isFinite(share) ? share * sum(lb) : sum(loads.usableLb);
    const rate = fieldWorkRate({ ...plan, rig: { ...plan.rig, ...withSpeed(plan, options) } }, rig, passes);
    const work = workAt(rig.work, rate.acPerHour);
    const lines = timeLinesOf(work, loadLb, tenders ?? undefined);
    const stand = options.stands?.find((one) => one.fieldId === field.field.id);
    return { field, areaAc, lb: sum(lb), loadLb, rate, lines, doneAc: areaAc * shareDone(stand) };
  });
  // What is left is not worked before what is done; a start that somebody types stands.
  const isLeft = rows.some(({ areaAc, doneAc }) => doneAc < areaAc);
  const worked = options.start === undefined && isLeft ? workedAfterStart(plan, options.stands ?? []) : null;
  const typed = options.start ?? (worked === null ? undefined : dayAfter(worked));
  const weather = weatherOf(plan, typed);
  const input = {
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
  };
  const planned = seasonPlan({ ...(weather ?? everyDay(startOf(plan, typed))), ...input });
  const dated = weather !== null;
  const table = rows.map((row, i): SeasonFieldRow => {
    const { id, leftAc, hours, bound, workableDays, date80, date50 } = planned.fields[i]!;
    const meanStripLbPerAc = row.lb / row.areaAc;
    const at = hoursAtRate(row.lines, meanStripLbPerAc);
    const rigHours = row.lines.rig.hoursPerAc + row.lines.rig.hoursPerLb * meanStripLbPerAc;
    const acPerFill = row.lb > 0 ? (row.loadLb / row.lb) * row.areaAc : null;
    const isDone = leftAc < LEAST_AC;
    const waits = 60 * Math.max(0, at.hoursPerAc - rigHours);
    return {
      fieldId: id,
      name: row.field.field.name,
      areaAc: row.areaAc,
      leftAc,
      isDone,
      meanStripLbPerAc,
      acPerFill,
      acPerHour: 1 / at.hoursPerAc,
      bound,
      waitMinutesPerFill: acPerFill === null || isDone ? 0 : waits * acPerFill,
      hours,
      workableDays: isDone ? 0 : workableDays,
      date80: dated && !isDone ? date80 : null,
      date50: dated && !isDone ? date50 : null,
      chase: null,
    };
  });
  const notices: Notice[] = [];
  if (worked !== null && plan.season !== undefined) {
    const message = `the season's start is ${startOf(plan)} and the ledger has strips placed on ${worked}: what is left is reckoned from ${dayAfter(worked)}`;
    notices.push({ code: "start-after-work", message, where: "season" });
  }
  notices.push(...startNotices(plan, startOf(plan, typed), isLeft));
  if (!dated) {
    const message =
      "no workable days are typed: hours and workable days are told, no dates (season.workableDays)";
    notices.push({ code: "no-workable-days", message, where: "season" });
  }
  const held = heldProducts(
    plan,
    rig,
    fields.flatMap(({ laid }) => (laid === undefined ? [] : [laid])),
  );
  notices.push(...unknownHumidityNotices(plan, held), ...coatedNotices(plan, rig));
  const days = dayFigures(rig, rows, moveHours);
  const chased = chasePlanters(
    ...([plan, table, planned, weather, rig.work.hoursPerDay] as const),
    farmLines(rig, rows),
    options.stands ?? [],
  );
  const isAllDone = table.every(({ isDone }) => isDone);
  if (!isAllDone) notices.push(...chased.notices);
  const acres = sum(table.map((row) => row.leftAc));
  return {
    start: plan.season === undefined && options.start === undefined ? null : startOf(plan, typed),
    fields: table.map((row, i) => ({ ...row, chase: chased.fields[i] ?? null })),
    acres,
    hours: planned.hours,
    workableDays: planned.finish.workableDays,
    ...days,
    finish:
      weather === null
        ? []
        : finishes(planned, weather, () => seasonPlan({ ...weather, ...input, persistence: 0 })),
    levers: leversOf(rig, rows, options.lowerLbPerAc),
    planters: isAllDone ? [] : chased.planters,
    humidity: humidityRows(plan, held),
    coated: coatedBlend(plan, held, table, weather, days.acPerDaySteady),
    notices,
    assumed: [...fillAssumed(plan, rig, rows[0]!.rate), ...seasonAssumed(plan)],
  };
}

/** Acres below that print as none. */
const LEAST_AC = 0.05;

/** The fields given, in the season's order; those it does not name come after it, in the plan's order. */
export function inWorkingOrder<T extends { readonly field: { readonly id: string } }>(
  plan: Plan,
  fields: readonly T[],
): T[] {
  const order = plan.season?.order ?? [];
  const place = (id: string): number => (order.includes(id) ? order.indexOf(id) : order.length);
  return fields.toSorted((a, b) => place(a.field.id) - place(b.field.id));
}

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

/** Days up to the first on which it is all but sure. */
function untilSure<T extends { readonly chance: number }>(byDay: readonly T[]): readonly T[] {
  const sure = byDay.findIndex(({ chance }) => chance > 0.995);
  return sure < 0 ? byDay : byDay.slice(0, sure + 1);
}

/** At the plan's persistence and at none. */
function finishes(
  planned: SeasonPlan,
  { persistence }: WeatherInput,
  atNone: () => SeasonPlan,
): SeasonOfPlan["finish"] {
  const dates = ({ finish }: SeasonPlan, at: number) => ({
    persistence: at,
    date80: finish.date80,
    date50: finish.date50,
    date20: finish.date20,
    byDay: untilSure(finish.byDay),
  });
  return persistence === 0 ? [dates(planned, 0)] : [dates(planned, persistence), dates(atNone(), 0)];
}

/** Share of a field's strip pass that is done by the ledger, of the acres that may get something: that share of its pounds is laid. */
function shareDone(stand: FieldStand | undefined): number {
  if (stand === undefined) return 0;
  const { frozen, state, strippedAc, toStripAc } = stand;
  return frozen || state === "stripped" ? 1 : toStripAc > 0 ? Math.min(1, strippedAc / toStripAc) : 0;
}
