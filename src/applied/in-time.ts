import { InputError } from "../errors/index.ts";
import { distance } from "../geo/index.ts";
import { numberText } from "../units/index.ts";
import type { LogPoint } from "./log-pieces.ts";

/** Share of a log's readings, and readings, up to which times that go back are single faults of a clock (ours). */
const MOST_BACK_SHARE = 0.05;
const MOST_BACK = 5;
/** Share of a log's readings up to which times go back at places where a clock was set or stretches were joined (ours). */
const MOST_BREAKS_SHARE = 0.01;

/** What is wrong with the times of a log. */
export interface TimeFaults {
  /** Readings that do not go on in time, or stand in the log a second time. */
  readonly out: ReadonlySet<LogPoint>;
  /** Readings from which on times are set back, the order being the file's all the same; no time of the log is used then. */
  readonly setBack: readonly LogPoint[];
}

/**
 * Readings whose times do not go on, the fewest that have to be left out for those of the rest to go on from one to the next:
 * a reading ahead of its time goes itself, not all that follow it. Readings without a time stay. Of several in one second, as of
 * a stretch that is in the file twice, one stays. Where whole stretches would go and times go back at a few places only, a
 * clock was set or stretches stand in another order: all stay, in the order of the file. Throws `log-out-of-order` where times
 * go back at many places: another order than the one they were driven in.
 */
export function timeFaults(log: readonly LogPoint[], longestGapM: number, product?: string): TimeFaults {
  const timed = log.filter(({ seconds }) => seconds !== null);
  const kept = longestRise(timed.map(({ seconds }) => seconds!));
  if (kept.length === timed.length) return { out: new Set(), setBack: [] };
  const isKept = new Set(kept);
  const bySecond = new Map(kept.map((k) => [timed[k]!.seconds!, timed[k]!]));
  const isBack = timed.map(({ seconds, at }, k) => {
    if (isKept.has(k)) return false;
    const same = bySecond.get(seconds!);
    return same === undefined || distance(same.at, at) > longestGapM;
  });
  const out = (of: (k: number) => boolean): Set<LogPoint> => new Set(timed.filter((_, k) => of(k)));
  const back = out((k) => isBack[k]!);
  if (longestRun(isBack) <= MOST_BACK && back.size <= Math.max(MOST_BACK, MOST_BACK_SHARE * log.length))
    return { out: out((k) => !isKept.has(k)), setBack: [] };
  const setBack = timed.filter(({ seconds }, k) => k > 0 && seconds! < timed[k - 1]!.seconds!);
  if (setBack.length <= Math.max(MOST_BACK, MOST_BREAKS_SHARE * log.length))
    return { out: out((k) => !isKept.has(k) && !isBack[k]!), setBack };
  const [first] = back;
  throw new InputError(
    "log-out-of-order",
    `${product === undefined ? "" : `${product}: `}the log's readings are not in the order of their times: ${numberText(back.size, 0)} of ${numberText(log.length, 0)} go back, the first is record ${first!.record}`,
    "Give the file as the display wrote it, in the order driven: sort it by its times. Where the clock was wrong and it stands in the order driven, take its column of times out.",
  );
}

/** The most that hold one after the other. */
function longestRun(list: readonly boolean[]): number {
  let [now, most] = [0, 0];
  for (const one of list) {
    now = one ? now + 1 : 0;
    most = Math.max(most, now);
  }
  return most;
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
