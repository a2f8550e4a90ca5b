import { InputError } from "../errors/index.ts";

const DAY_MS = 86_400_000;

/** Days since 1 January 1970 of a date written 2026-04-10. Throws `date-not-usable`. */
export function dayNumber(date: string): number {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  const day =
    parts === null ? Number.NaN : Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3])) / DAY_MS;
  // Date.UTC turns April 31 into May 1: written back it must be the same date.
  if (Number.isNaN(day) || dateOf(day) !== date) {
    throw new InputError("date-not-usable", `"${date}" is not a date`, "Write dates as 2026-04-10.");
  }
  return day;
}

/** The date of a day number, 2026-04-10. */
export const dateOf = (day: number): string => new Date(day * DAY_MS).toISOString().slice(0, 10);

export interface DayChance {
  /** First and last day it holds for, 2026-04-10. */
  readonly from: string;
  readonly to: string;
  /** Chance that a day is workable, 0 to 1. */
  readonly chance: number;
}

/** Workable days a week, as observers count them, to a daily chance; 0.7 day a week less when Sundays are not worked (A3-25). */
export const dailyChance = (daysPerWeek: number, sundaysWorked = true): number =>
  Math.min(1, Math.max(0, (daysPerWeek - (sundaysWorked ? 0 : 0.7)) / 7));

/**
 * Chance of each of `days` days from `start`. After the last entry its chance holds on. Throws `day-without-chance` for a
 * day before the first entry or in a gap, `number-not-usable`.
 */
export function chancesFrom(start: string, days: number, table: readonly DayChance[]): Float64Array {
  const entries = table.map((entry) => ({
    ...entry,
    first: dayNumber(entry.from),
    last: dayNumber(entry.to),
  }));
  for (const { from, chance } of entries) {
    if (chance >= 0 && chance <= 1) continue;
    throw new InputError(
      "number-not-usable",
      `the chance from ${from} is ${chance}`,
      "Give a chance from 0 to 1.",
    );
  }
  const latest = entries.reduce<(typeof entries)[number] | undefined>(
    (best, entry) => (best === undefined || entry.last > best.last ? entry : best),
    undefined,
  );
  const first = dayNumber(start);
  return Float64Array.from({ length: days }, (_, d) => {
    const day = first + d;
    const entry = entries.find((one) => day >= one.first && day <= one.last);
    if (entry !== undefined) return entry.chance;
    if (latest !== undefined && day > latest.last) return latest.chance;
    throw new InputError(
      "day-without-chance",
      `no chance is given for ${dateOf(day)}`,
      "Give the workable-day chance of every half-month from the start on.",
    );
  });
}
