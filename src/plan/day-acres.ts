import { type DayStart, operationsDefault, type WorkDayInput, workDay } from "../capacity/index.ts";

/** Acres of a day. A small rest in a tender ruins the round: it stays or leaves with it, whichever gets more done. */
export function dayAcres(day: Omit<WorkDayInput, "leaveBelowLb">, loadLb: number, start: DayStart): number {
  const shares = [0, operationsDefault("leaveBelowShare").value];
  return Math.max(
    ...shares.map((share) => workDay({ ...day, loadLb, leaveBelowLb: share * loadLb }, start).acres),
  );
}
