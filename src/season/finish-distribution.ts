import { requireNumber } from "../capacity/index.ts";
import { InputError } from "../errors/index.ts";
import { dateOf, dayNumber } from "./calendar.ts";
import { atLeast, type WeatherInput, workableDayCounts } from "./workable-days.ts";

interface FinishInput extends WeatherInput {
  readonly acres: number;
  readonly acPerDay: number;
  /** Days looked at; 150 when left out. */
  readonly horizonDays?: number;
}

export interface FinishDistribution {
  /** Workable days the acres take, rounded up. */
  readonly workableDays: number;
  /** Chance of being done by the end of each day from the start on. */
  readonly byDay: readonly { readonly date: string; readonly chance: number }[];
  /** First date by which the chance is reached; null when the horizon ends before. Show the 80 % date first. */
  readonly date80: string | null;
  readonly date50: string | null;
  readonly date20: string | null;
  readonly date90: string | null;
}

/** When the work is done: the exact distribution of the finish date. Throws the errors of `chancesFrom`, `number-not-usable`. */
export function finishDistribution(input: FinishInput): FinishDistribution {
  const { acres, acPerDay, horizonDays = 150 } = input;
  requireNumber("acres", acres);
  requireNumber("acPerDay", acPerDay, { above: 0 });
  return finishOfDays(input, Math.ceil((acres / acPerDay) * (1 - 1e-12)), horizonDays);
}

/** The same for a number of workable days. */
export function finishOfDays(
  weather: WeatherInput,
  workableDays: number,
  horizonDays = 150,
): FinishDistribution {
  const first = dayNumber(weather.start);
  const byDay = workableDayCounts(weather, horizonDays)
    .slice(1)
    .map((counts, d) => ({ date: dateOf(first + d), chance: atLeast(counts, workableDays) }));
  const dateAt = (chance: number): string | null => byDay.find((day) => day.chance >= chance)?.date ?? null;
  return {
    workableDays,
    byDay,
    date80: dateAt(0.8),
    date50: dateAt(0.5),
    date20: dateAt(0.2),
    date90: dateAt(0.9),
  };
}

/** Chance of being done by the end of a date. Throws `date-outside-horizon`. */
export function chanceDoneBy(distribution: FinishDistribution, date: string): number {
  const day = distribution.byDay.find((one) => one.date === date);
  if (day !== undefined) return day.chance;
  throw new InputError(
    "date-outside-horizon",
    `${date} is not among the days looked at`,
    "Choose a later start or a longer horizon.",
  );
}
