import { globeDistance, M_PER_DEG, type Point } from "../geo/index.ts";

/** Where and when a log of one product began and ended in a field: the same in whatever form and unit it is exported. */
export interface LogSpan {
  readonly readings: number;
  /** Longitude and latitude of the first and the last reading, degrees. */
  readonly first: readonly [number, number];
  readonly last: readonly [number, number];
  /** West, south, east and north of all readings, degrees; lines of earlier versions have none. */
  readonly box?: readonly [number, number, number, number];
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
 * Whether two logs of one product in one field are of the same work, wholly or in part: their hours overlap and their ground
 * meets (two rigs in one field at once are two), or they begin and end in the same places with as many readings, and no more
 * than clocks of two zones apart; whatever the clock says where count and places are the very same. Where one has no times:
 * they begin in the very same place, or end there, and the one with fewer readings lies in the ground of the other, as a
 * day's log and one of several days do.
 */
export function isSameWork(one: LogSpan, two: LogSpan): boolean {
  const [a, b] = [hoursOf(one), hoursOf(two)];
  if (a !== null && b !== null) {
    const together = Math.min(a[1], b[1]) - Math.max(a[0], b[0]);
    if (together > OVERLAP_SHARE * Math.min(a[1] - a[0], b[1] - b[0])) return isNearBy(one, two);
    // Another day by a clock that was set anew: reading for reading in the same places.
    if (Math.abs(a[0] - b[0]) > CLOCKS_H) {
      return one.readings === two.readings && endsAre(one, two, SAME_PLACE_M);
    }
  } else if (isNear(one.first, two.first, SAME_PLACE_M) || isNear(one.last, two.last, SAME_PLACE_M)) {
    if (one.readings < two.readings) return isWithin(one, two);
    if (one.readings > two.readings) return isWithin(two, one);
  }
  return isWhole(one, two);
}

/** Whether the second of two logs of the same work has some that the first has not: it begins earlier, ends later, or has more readings. */
export function reachesBeyond(one: LogSpan, two: LogSpan): boolean {
  if (isWhole(one, two)) return false;
  const [a, b] = [hoursOf(one), hoursOf(two)];
  if (a !== null && b !== null && (b[0] < a[0] || b[1] > a[1])) return true;
  return two.readings > (1 + READINGS_SHARE) * one.readings;
}

const isWhole = (one: LogSpan, two: LogSpan): boolean =>
  Math.abs(one.readings - two.readings) <= READINGS_SHARE * Math.max(one.readings, two.readings) &&
  endsAre(one, two, PLACE_M);

/** Whether the ground of two logs meets; true where one's is not known. */
const isNearBy = ({ box: one }: LogSpan, { box: two }: LogSpan): boolean => {
  if (one === undefined || two === undefined) return true;
  // The south-west corner of what both have, where both have any.
  const corner: Point = [Math.max(one[0], two[0]), Math.max(one[1], two[1])];
  return isInBox(one, corner) && isInBox(two, corner);
};

/** Whether the ground of one log lies in another's; true where either is not known. */
const isWithin = ({ box: part }: LogSpan, { box: all }: LogSpan): boolean =>
  part === undefined ||
  all === undefined ||
  (isInBox(all, [part[0], part[1]]) && isInBox(all, [part[2], part[3]]));

/** Whether a place in degrees lies in a box or no farther from it than two exports of one log. */
export function isInBox(box: NonNullable<LogSpan["box"]>, [lon, lat]: Point): boolean {
  const [west, south, east, north] = box;
  const high = PLACE_M / M_PER_DEG;
  const wide = high / Math.max(0.01, Math.cos((south * Math.PI) / 180));
  return lon >= west - wide && lon <= east + wide && lat >= south - high && lat <= north + high;
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
