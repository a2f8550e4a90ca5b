import { type DayStart, operationsDefault, type WorkDayInput, workDay } from "../../capacity/index.ts";

/**
 * Acres of a day. A rest in a tender ruins the round: it stays until it is empty, leaves with a small rest, or leaves once it has
 * no whole load any more (as the tender sheet and the steady figure have it), whichever gets more done.
 */
export function dayAcres(day: Omit<WorkDayInput, "leaveBelowLb">, loadLb: number, start: DayStart): number {
  const shares = [0, operationsDefault("leaveBelowShare").value, 1];
  return Math.max(
    ...shares.map((share) => workDay({ ...day, loadLb, leaveBelowLb: share * loadLb }, start).acres),
  );
}
