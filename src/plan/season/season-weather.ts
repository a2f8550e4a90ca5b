import type { Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { dailyChance, dateOf, dayNumber, type WeatherInput } from "../../season/index.ts";
import type { Plan } from "../document/document-types.ts";
import { firstWorkedDay, seasonOf } from "../document/season-of-date.ts";
import { PERSISTENCE } from "../fills/fill-assumed.ts";

/** First day that may be worked: typed, the plan's, or 1 April of its season. */
export const startOf = (plan: Plan, typed?: string): string =>
  typed ?? plan.season?.start ?? firstWorkedDay(plan.seasonYear);

/** Last day of the season with strips placed by the ledger; null where that is before the plan's start. */
export function workedAfterStart(plan: Plan, stands: readonly FieldStand[]): string | null {
  const last = stands
    .flatMap(({ lastStripDate: date }) => (date !== null && seasonOf(date) <= plan.seasonYear ? [date] : []))
    .toSorted()
    .at(-1);
  return last === undefined || last < startOf(plan) ? null : last;
}

export const dayAfter = (date: string): string => dateOf(dayNumber(date) + 1);

/** Chances of workable days from the start on; null where the plan has none. */
export function weatherOf(plan: Plan, typed?: string): WeatherInput | null {
  const { workableDays, sundaysWorked = true, persistence = PERSISTENCE } = plan.season ?? {};
  if (workableDays === undefined) return null;
  const start = startOf(plan, typed);
  // Before the first entry its chance holds, as after the last one: the user sees both dates.
  const first = workableDays.reduce((a, b) => (a.from <= b.from ? a : b));
  const early = start < first.from ? [{ ...first, from: start, to: dateOf(dayNumber(first.from) - 1) }] : [];
  return {
    start,
    persistence,
    chances: [...early, ...workableDays].map(({ from, to, daysPerWeek }) => ({
      from,
      to,
      chance: dailyChance(daysPerWeek, sundaysWorked),
    })),
  };
}

/** A start in another season than the plan's, and one on a day for which no workable days are typed; none where nothing is left. */
export function startNotices(plan: Plan, start: string, isLeft: boolean): Notice[] {
  if (!isLeft) return [];
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message, where: "season" });
  };
  if (seasonOf(start) !== plan.seasonYear)
    add(
      "start-other-season",
      `the start ${start} is work for the season of ${seasonOf(start)}, and the plan is for ${plan.seasonYear}: look at its year`,
    );
  const { workableDays = [] } = plan.season ?? {};
  const spans = workableDays.toSorted((a, b) => (a.from < b.from ? -1 : 1));
  const first = spans[0];
  // One day alone stands for days that are all alike.
  if (first === undefined || (spans.length === 1 && first.from === first.to)) return notices;
  const last = spans.reduce((a, b) => (b.to > a.to ? b : a));
  const held = start < first.from ? first : start > last.to ? last : null;
  if (held !== null)
    add(
      "start-outside-days",
      `the start ${start} is ${start > last.to ? "after" : "before"} the days with workable days typed, ${first.from} to ${last.to}: from it on the ${held.daysPerWeek} days a week of ${held.from} to ${held.to} are taken`,
    );
  return notices;
}

/** Every day workable: for hours and days, never for dates. */
export const everyDay = (start: string): WeatherInput => ({
  start,
  persistence: 0,
  chances: [{ from: start, to: start, chance: 1 }],
});
