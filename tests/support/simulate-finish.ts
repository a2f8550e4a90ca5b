import { requireNumber } from "../../src/capacity/index.ts";
import { chancesFrom, dateOf, dayNumber, type WeatherInput } from "../../src/season/index.ts";
import { seededDraws } from "./seeded-draws.ts";

export interface SimulateFinishInput extends WeatherInput {
  readonly acres: number;
  /** Acres on the 1st, 2nd, ... workable day; the last figure holds on. Rates, moves and hours may make them differ. */
  readonly acresOnDay: readonly number[];
  readonly runs: number;
  readonly seed: number;
  readonly horizonDays?: number;
}

export interface SimulatedFinish {
  /** Share of runs done by the end of each day. */
  readonly byDay: readonly { readonly date: string; readonly share: number }[];
  /** Largest standard error of these shares, sqrt(p (1 - p) / runs) at most. */
  readonly standardError: number;
  readonly unfinishedRuns: number;
}

/** Monte Carlo of the finish date, for acres a day that vary; same seed, same figures. One stream, day by day, run by run. */
export function simulateFinish(input: SimulateFinishInput): SimulatedFinish {
  const { acres, acresOnDay, seed, persistence, horizonDays = 150 } = input;
  const runs = requireNumber("runs", input.runs, { atLeast: 1, atMost: 1e6 });
  requireNumber("the number of acresOnDay", acresOnDay.length, { atLeast: 1 });
  const chance = chancesFrom(input.start, horizonDays, input.chances);
  const draw = seededDraws(seed);
  const done = new Float64Array(horizonDays);
  let unfinished = 0;
  for (let run = 0; run < runs; run++) {
    let left = acres;
    let workedDays = 0;
    let yesterday: boolean | null = null;
    let d = 0;
    for (; d < horizonDays && left > 1e-9 * acres; d++) {
      const q = chance[d]!;
      const today: boolean =
        draw() < (yesterday === null ? q : yesterday ? q + persistence * (1 - q) : q * (1 - persistence));
      if (today) left -= acresOnDay[Math.min(workedDays++, acresOnDay.length - 1)]!;
      yesterday = today;
    }
    if (left > 1e-9 * acres) unfinished++;
    else done[Math.max(0, d - 1)]! += 1;
  }
  let total = 0;
  let standardError = 0;
  const first = dayNumber(input.start);
  const byDay = Array.from(done, (count, d) => {
    total += count;
    const share = total / runs;
    standardError = Math.max(standardError, Math.sqrt((share * (1 - share)) / runs));
    return { date: dateOf(first + d), share };
  });
  return { byDay, standardError, unfinishedRuns: unfinished };
}
