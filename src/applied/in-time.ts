import { InputError } from "../errors/index.ts";
import { distance } from "../geo/index.ts";
import { numberText } from "../units/index.ts";
import type { LogPoint } from "./log-types.ts";

/** Readings a fault of a clock takes with it, and share of a log's readings, up to which they are left out (ours). */
const MOST_BACK = 5;
const MOST_BACK_SHARE = 0.05;
/** Share of a log's readings up to which times go back at places where a clock was set or stretches were joined (ours). */
const MOST_BREAKS_SHARE = 0.01;
/** Of these places, those where the rig is elsewhere too: so many stretches are joined in another order, a sorted table has more (ours). */
const MOST_JOINTS = 3;

/** Readings of one second that lie no farther apart are one that the log has twice: the next pass is farther off. */
const SAME_PLACE_M = 1;

/** What is wrong with the times of a log. */
export interface TimeFaults {
  /** Readings that do not go on in time, or stand in the log a second time. */
  readonly out: ReadonlySet<LogPoint>;
  /** Those of them that the log has twice: another of their second, in their place, stays. */
  readonly copies: ReadonlySet<LogPoint>;
  /** Readings from which on times are set back, the order being the file's all the same; no time of the log is used then. */
  readonly setBack: readonly LogPoint[];
}

/**
 * Readings whose times do not go on, the fewest that have to be left out for those of the rest to go on from one to the next:
 * a reading ahead of its time goes itself, not all that follow it. Readings without a time stay. Of several in one second, as of
 * a stretch that is in the file twice, one stays. Where whole stretches would go and times go back at a few places only, a
 * clock was set or stretches stand in another order: all stay, in the order of the file. Throws `log-out-of-order` where times
 * go back at many places, or at some with the rig elsewhere: another order than the one they were driven in.
 */
export function timeFaults(log: readonly LogPoint[], longestGapM: number, product?: string): TimeFaults {
  const timed = log.filter(({ seconds }) => seconds !== null);
  const kept = longestRise(timed.map(({ seconds }) => seconds!));
  if (kept.length === timed.length) return { out: new Set(), copies: new Set(), setBack: [] };
  const isKept = new Set(kept);
  const bySecond = new Map(kept.map((k) => [timed[k]!.seconds!, timed[k]!]));
  const isCopy = timed.map(({ seconds, at }, k) => {
    const same = bySecond.get(seconds!);
    return !isKept.has(k) && same !== undefined && distance(same.at, at) <= SAME_PLACE_M;
  });
  const isBack = timed.map(
    ({ seconds }, k) => !isKept.has(k) && !isCopy[k]! && timed[k - 1]?.seconds !== seconds,
  );
  const out = (of: (k: number) => boolean): Set<LogPoint> => new Set(timed.filter((_, k) => of(k)));
  const back = out((k) => isBack[k]!);
  const copies = out((k) => isCopy[k]!);
  const setBack: LogPoint[] = [];
  let joints = 0;
  timed.forEach((point, k) => {
    const before = timed[k - 1];
    if (before === undefined || point.seconds! >= before.seconds!) return;
    setBack.push(point);
    if (distance(before.at, point.at) > longestGapM) joints++;
  });
  if (back.size <= Math.min(MOST_BACK * setBack.length, Math.max(MOST_BACK, MOST_BACK_SHARE * log.length)))
    return { out: out((k) => !isKept.has(k)), copies, setBack: [] };
  const mostBreaks = Math.max(MOST_BACK, MOST_BREAKS_SHARE * log.length);
  if (setBack.length <= mostBreaks && joints <= MOST_JOINTS)
    return { out: out((k) => !isKept.has(k) && !isBack[k]!), copies, setBack };
  const [first] = back;
  throw new InputError(
    "log-out-of-order",
    `${product === undefined ? "" : `${product}: `}the log's readings are not in the order of their times: ${numberText(back.size, 0)} of ${numberText(log.length, 0)} go back, the first is record ${first!.record}`,
    "Give the file as the display wrote it, in the order driven: sort it by its times. Where the clock was wrong and it stands in the order driven, take its column of times out.",
  );
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
