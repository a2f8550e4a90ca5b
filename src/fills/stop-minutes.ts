import { requireNumber } from "../capacity/index.ts";
import { distance, type Point } from "../geo/index.ts";
import { M_PER_S_PER_MPH } from "../units/index.ts";

/**
 * Minutes of a stop after each pass but the last: fixed time and the detour from the end of the pass over the tender to the
 * start of the next one, straight lines in the field's plane, metres. null where `reachable` says no.
 */
export function headlandStopMinutes(input: {
  /** Where each pass starts and ends, in working order. */
  readonly passes: readonly { readonly start: Point; readonly end: Point }[];
  readonly tender: Point;
  readonly fixedMinutes: number;
  readonly headlandMph: number;
  readonly reachable?: (afterPass: number) => boolean;
}): (number | null)[] {
  const { passes, tender, fixedMinutes, headlandMph, reachable = () => true } = input;
  requireNumber("fixedMinutes", fixedMinutes);
  requireNumber("headlandMph", headlandMph, { above: 0 });
  return passes.slice(0, -1).map(({ end }, k) => {
    if (!reachable(k + 1)) return null;
    const { start } = passes[k + 1]!;
    const detour = distance(end, tender) + distance(tender, start) - distance(end, start);
    return fixedMinutes + detour / (headlandMph * 60 * M_PER_S_PER_MPH);
  });
}

/**
 * Minutes of a stop where passes go to and fro from `startSide` and the tender stands at one side: after pass k the rig is
 * on side (startSide + k) mod 2. On the other side there is no stop, or one that costs a crossing.
 */
export function sideStopMinutes(input: {
  readonly passes: number;
  readonly startSide: 0 | 1;
  readonly tenderSide: 0 | 1;
  readonly minutes: number;
  readonly crossMinutes?: number;
}): (number | null)[] {
  const { passes, startSide, tenderSide, minutes, crossMinutes } = input;
  return Array.from({ length: passes - 1 }, (_, k) => {
    if ((startSide + k + 1) % 2 === tenderSide) return minutes;
    return crossMinutes === undefined ? null : minutes + crossMinutes;
  });
}
