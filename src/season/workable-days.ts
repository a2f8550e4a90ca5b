import { requireNumber } from "../capacity/index.ts";
import { chancesFrom, type DayChance } from "./calendar.ts";

export interface WeatherInput {
  /** First day that may be worked, 2026-04-10. */
  readonly start: string;
  readonly chances: readonly DayChance[];
  /** Day-to-day persistence r, 0 to below 1: P(work | worked yesterday) = q + r (1 - q). About 0.5 (unconfirmed); show 0 beside it. */
  readonly persistence: number;
}

/**
 * Chance of k workable days among the first d days, for d = 0 ... `days`: one array a day, k = 0 ... d. Exact, O(days^2): the
 * counts with today worked and today not are carried on. The first day's chance is its own; the long-run share stays what it is.
 */
export function workableDayCounts(weather: WeatherInput, days: number): Float64Array[] {
  const persistence = requireNumber("persistence", weather.persistence, { atLeast: 0, atMost: 0.999 });
  const chance = chancesFrom(weather.start, days, weather.chances);
  const all: Float64Array[] = [Float64Array.of(1)];
  let worked = new Float64Array(days + 1);
  let idle = new Float64Array(days + 1);
  for (let d = 1; d <= days; d++) {
    const q = chance[d - 1]!;
    const nextWorked = new Float64Array(days + 1);
    const nextIdle = new Float64Array(days + 1);
    if (d === 1) {
      nextWorked[1] = q;
      nextIdle[0] = 1 - q;
    } else {
      const afterWork = q + persistence * (1 - q);
      const afterIdle = q * (1 - persistence);
      for (let k = 0; k < d; k++) {
        nextWorked[k + 1] = worked[k]! * afterWork + idle[k]! * afterIdle;
        nextIdle[k] = nextIdle[k]! + worked[k]! * (1 - afterWork) + idle[k]! * (1 - afterIdle);
      }
    }
    [worked, idle] = [nextWorked, nextIdle];
    all.push(worked.slice(0, d + 1).map((p, k) => p + idle[k]!));
  }
  return all;
}

/** Chance of at least `needed` workable days among the first `days` days. */
export function chanceOfWorkableDays(weather: WeatherInput, days: number, needed: number): number {
  return atLeast(workableDayCounts(weather, days)[days]!, needed);
}

/** Sum of the counts from `needed` on. */
export function atLeast(counts: Float64Array, needed: number): number {
  let below = 0;
  let above = 0;
  counts.forEach((p, k) => {
    if (k < needed) below += p;
    else above += p;
  });
  // The smaller side is summed with less lost.
  return below < above ? 1 - below : above;
}
