import { boundsOf, polygonFinder } from "../../geo/index.ts";
import { hoursOf, isInBox, isNear, type LogSpan } from "../../ledger/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { ProductLog } from "./applied-types.ts";
import { readingsNear } from "./readings-in-plane.ts";

/** Of an entry's hours so much must lie within the readings that show it (ours). */
const SHOWN_SHARE = 0.9;

type Readings = ReturnType<typeof readingsNear>;

/**
 * Where and when a log of one product began and ended in a field, as a line of the ledger keeps it: by the readings within the
 * boundary, since a log of several fields has a neighbour's beside it. A log that only passes by has those near it; nothing
 * without readings there.
 */
export function spanOf(field: FieldResult, log: ProductLog["log"]): { span?: LogSpan } {
  const near = readingsNear(field, log);
  const { frame, boundary } = field.checked;
  const find = polygonFinder(boundary);
  const within = near.filter(({ at }) => find(frame.toPlane(at)) >= 0);
  const readings = within.length > 0 ? within : near;
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) return {};
  const times = first.time === "" || last.time === "" ? {} : { began: first.time, ended: last.time };
  const box = boxOf(readings);
  return {
    span: { readings: readings.length, first: rounded(first.at), last: rounded(last.at), box, ...times },
  };
}

/** West, south, east and north of readings, degrees. */
function boxOf(readings: Readings): NonNullable<LogSpan["box"]> {
  const { minX, minY, maxX, maxY } = boundsOf([[readings.map(({ at }) => at)]]);
  return [...rounded([minX, minY]), ...rounded([maxX, maxY])];
}

/** A tenth of a metre. */
const rounded = ([lon, lat]: readonly [number, number]): LogSpan["first"] => [
  Math.round(lon * 1e6) / 1e6,
  Math.round(lat * 1e6) / 1e6,
];

const hourOf = (time: string): number => Date.parse(time) / 3_600_000;

/** Whether a reading is of the hours and the ground of a line of the ledger; never of one without times. */
export function isOfSpan(span: LogSpan, { at, time }: Readings[number]): boolean {
  const hours = hoursOf(span);
  const hour = hourOf(time);
  return (
    hours !== null &&
    hour >= hours[0] &&
    hour <= hours[1] &&
    (span.box === undefined || isInBox(span.box, at))
  );
}

/**
 * Whether readings show the work that a line of the ledger tells of: its hours on its ground, where a second rig was elsewhere,
 * else where it began and where it ended.
 */
export function isShown(span: LogSpan, readings: Readings): boolean {
  const hours = hoursOf(span);
  if (hours !== null) {
    const within = readings.filter((reading) => isOfSpan(span, reading)).map(({ time }) => hourOf(time));
    const [from, to] = within.reduce(
      ([low, high], time) => [Math.min(low, time), Math.max(high, time)],
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
    );
    if (within.length > 0 && to - from >= SHOWN_SHARE * (hours[1] - hours[0])) return true;
  }
  return [span.first, span.last].every((place) => readings.some(({ at }) => isNear(at, place)));
}
