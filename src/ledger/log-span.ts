import { globeDistance, type Point } from "../geo/index.ts";

/** Where and when a log of one product began and ended in a field: the same in whatever form and unit it is exported. */
export interface LogSpan {
  readonly readings: number;
  /** Longitude and latitude of the first and the last reading, degrees. */
  readonly first: readonly [number, number];
  readonly last: readonly [number, number];
  /** Their times as the log words them; left out of a log without times. */
  readonly began?: string;
  readonly ended?: string;
}

/** What two exports of one log differ in at most: metres, share of the readings, hours between clocks (ours). */
const PLACE_M = 3;
/** No farther apart lie two readings that are one (ours): a rig that comes again is farther off. */
const SAME_PLACE_M = 1;
const READINGS_SHARE = 0.01;
const CLOCKS_H = 15;
/** Of the shorter of two logs so much in the hours of the other is the same work: a rig is in one place at a time. */
const OVERLAP_SHARE = 0.5;

/**
 * Whether two logs of one product in one field are of the same work, wholly or in part: their hours overlap, or they begin and
 * end in the same places with as many readings, and no more than clocks of two zones apart; whatever the clock says where
 * count and places are the very same. Where one has no times: they begin in the very same place, or end there, as a day's
 * log and one of several days do, of which the one holds the other.
 */
export function isSameWork(one: LogSpan, two: LogSpan): boolean {
  const [a, b] = [hoursOf(one), hoursOf(two)];
  if (a !== null && b !== null) {
    const together = Math.min(a[1], b[1]) - Math.max(a[0], b[0]);
    if (together > OVERLAP_SHARE * Math.min(a[1] - a[0], b[1] - b[0])) return true;
    // Another day by a clock that was set anew: reading for reading in the same places.
    if (Math.abs(a[0] - b[0]) > CLOCKS_H) {
      return one.readings === two.readings && endsAre(one, two, SAME_PLACE_M);
    }
  } else if (isNear(one.first, two.first, SAME_PLACE_M) || isNear(one.last, two.last, SAME_PLACE_M)) {
    return true;
  }
  return (
    Math.abs(one.readings - two.readings) <= READINGS_SHARE * Math.max(one.readings, two.readings) &&
    endsAre(one, two, PLACE_M)
  );
}

const endsAre = (one: LogSpan, two: LogSpan, withinM: number): boolean =>
  isNear(one.first, two.first, withinM) && isNear(one.last, two.last, withinM);

/** Whether two places in degrees are one to a few metres. */
export const isNear = (one: Point, two: Point, withinM: number = PLACE_M): boolean =>
  globeDistance(one, two) <= withinM;

/** First and last hour of a span, counted from any start; null without times. */
export function hoursOf({ began, ended }: LogSpan): readonly [number, number] | null {
  const [from, to] = [began, ended].map((time) => Date.parse(time ?? "") / 3_600_000);
  return Number.isFinite(from!) && Number.isFinite(to!) ? [Math.min(from!, to!), Math.max(from!, to!)] : null;
}
