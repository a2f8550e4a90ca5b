import type { Point } from "../geo/index.ts";
import type { LogPoint } from "./log-types.ts";

export interface FoundLag {
  /** Seconds by which the applied rate comes after the map's; 0 when the map's rates do not change along the log. */
  readonly lagSeconds: number;
  /** Logged / planned rate at that lag; NaN when nothing could be compared. */
  readonly loggedFactor: number;
  /** Share of the variance of the logged rates that the shifted map explains, 0 to 1. */
  readonly explained: number;
  /** Readings compared. */
  readonly readings: number;
}

interface TimedPoint extends LogPoint {
  readonly seconds: number;
}

/** The longest delay looked for. */
const MOST_SECONDS = 10;

/**
 * How late the meter follows the map: the shift in time, 0 to 10 s in steps of 0.1 s, at which the planned rate where
 * the rig was then is nearest to the logged rate, up to one factor. Times rise along the log (`cleanLog`). Every shift is
 * judged on the same readings: those whose pass began at least 10 s before.
 */
export function findLag(points: readonly LogPoint[], plannedLbPerAc: (at: Point) => number | null): FoundLag {
  const timed = points.filter((point): point is TimedPoint => point.seconds !== null);
  const used = [...timed.keys()].filter((i) => placeAt(timed, i, timed[i]!.seconds - MOST_SECONDS) !== null);
  let best: (FoundLag & { readonly error: number }) | null = null;
  for (let step = 0; step <= MOST_SECONDS * 10; step++) {
    const fit = fitAt(timed, used, step / 10, plannedLbPerAc);
    if (fit !== null && (best === null || fit.error < best.error * (1 - 1e-9))) best = fit;
  }
  if (best === null) return { lagSeconds: 0, loggedFactor: Number.NaN, explained: 0, readings: 0 };
  const { error: _, ...found } = best;
  return found;
}

function fitAt(
  timed: readonly TimedPoint[],
  used: readonly number[],
  lagSeconds: number,
  plannedLbPerAc: (at: Point) => number | null,
): (FoundLag & { readonly error: number }) | null {
  const pairs = used.flatMap((i) => {
    const planned = plannedLbPerAc(placeAt(timed, i, timed[i]!.seconds - lagSeconds)!);
    return planned === null ? [] : [{ planned, logged: timed[i]!.appliedLbPerAc }];
  });
  const total = (term: (pair: (typeof pairs)[number]) => number): number =>
    pairs.reduce((sum, pair) => sum + term(pair), 0);
  const squares = total(({ planned }) => planned * planned);
  if (pairs.length < 2 || squares === 0) return null;
  const loggedFactor = total(({ planned, logged }) => planned * logged) / squares;
  // By reading: readings without a plan drop out, and their number may differ from shift to shift.
  const error = total(({ planned, logged }) => (logged - loggedFactor * planned) ** 2) / pairs.length;
  const mean = total(({ logged }) => logged) / pairs.length;
  const spread = total(({ logged }) => (logged - mean) ** 2) / pairs.length;
  const explained = spread > 0 ? Math.max(0, 1 - error / spread) : 0;
  return { lagSeconds, loggedFactor, explained, readings: pairs.length, error };
}

/** Where the rig was at a time up to reading `i`, on the same pass; null before that pass began. */
function placeAt(timed: readonly TimedPoint[], i: number, when: number): Point | null {
  const { pass } = timed[i]!;
  let before = i;
  while (before >= 0 && timed[before]!.seconds > when && timed[before]!.pass === pass) before--;
  const a = timed[before];
  if (a === undefined || a.pass !== pass) return null;
  const b = timed[before + 1];
  if (before === i || b === undefined || a.seconds === when) return a.at;
  const share = (when - a.seconds) / (b.seconds - a.seconds);
  return [a.at[0] + share * (b.at[0] - a.at[0]), a.at[1] + share * (b.at[1] - a.at[1])];
}
