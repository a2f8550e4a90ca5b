import { InputError } from "../errors/index.ts";
import { distance } from "../geo/index.ts";
import { numberText } from "../units/index.ts";
import type { LogPoint } from "./log-pieces.ts";

/** Share of a log's readings, and readings, up to which times that go back are single faults of a clock (ours). */
const MOST_BACK_SHARE = 0.05;
const MOST_BACK = 5;

/**
 * Readings whose times do not go on, the fewest that have to be left out for those of the rest to go on from one to the next:
 * a reading ahead of its time goes itself, not all that follow it. Readings without a time stay. Of several in one second, as of
 * a stretch that is in the file twice, one stays. Throws `log-out-of-order` where more than single readings go back in time
 * at places of their own: another order than the one they were driven in.
 */
export function outOfTime(log: readonly LogPoint[], longestGapM: number): ReadonlySet<LogPoint> {
  const timed = log.filter(({ seconds }) => seconds !== null);
  const kept = longestRise(timed.map(({ seconds }) => seconds!));
  if (kept.length === timed.length) return new Set();
  const isKept = new Set(kept);
  const bySecond = new Map(kept.map((k) => [timed[k]!.seconds!, timed[k]!]));
  const out = timed.filter((_, k) => !isKept.has(k));
  const back = out.filter(({ seconds, at }) => {
    const same = bySecond.get(seconds!);
    return same === undefined || distance(same.at, at) > longestGapM;
  });
  if (back.length > Math.max(MOST_BACK, MOST_BACK_SHARE * log.length)) {
    throw new InputError(
      "log-out-of-order",
      `the log's readings are not in the order of their times: ${numberText(back.length, 0)} of ${numberText(log.length, 0)} go back, the first is record ${back[0]!.record}`,
      "Sort the file by its times, or take the column of times out where the clock was wrong: readings count in the order of the file then.",
    );
  }
  return new Set(out);
}

/** Places of a longest strictly rising part of a list of numbers, in order. */
function longestRise(values: readonly number[]): number[] {
  /** Place of the least last value of a rise of each length. */
  const lasts: number[] = [];
  const before = new Int32Array(values.length).fill(-1);
  values.forEach((value, k) => {
    let [low, high] = [0, lasts.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (values[lasts[middle]!]! < value) low = middle + 1;
      else high = middle;
    }
    if (low > 0) before[k] = lasts[low - 1]!;
    lasts[low] = k;
  });
  const rise: number[] = [];
  for (let k = lasts.at(-1) ?? -1; k >= 0; k = before[k]!) rise.push(k);
  return rise.reverse();
}
