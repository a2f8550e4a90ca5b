import { requireNumber } from "../capacity/index.ts";
import { LB_PER_TON } from "../units/index.ts";

export interface ScheduledLoad {
  readonly number: number;
  /** Day before whose work the load must stand there. */
  readonly neededOn: string;
  readonly tons: number;
}

/**
 * Load tons by date: a load comes on the day on which what is at hand would no longer last the day. Days in order of date;
 * loads of one size, the last one only as large as what is still wanted. Throws `number-not-usable`.
 */
export function loadSchedule(input: {
  readonly use: readonly { readonly date: string; readonly lb: number }[];
  readonly onHandLb: number;
  readonly loadTons: number;
}): ScheduledLoad[] {
  const loadLb = requireNumber("loadTons", input.loadTons, { above: 0 }) * LB_PER_TON;
  const days = input.use.toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  let wantedLb = days.reduce((sum, day) => sum + requireNumber(`lb on ${day.date}`, day.lb), 0);
  let handLb = requireNumber("onHandLb", input.onHandLb);
  const loads: ScheduledLoad[] = [];
  for (const { date, lb } of days) {
    while (lb > handLb + 1e-6) {
      const size = Math.min(loadLb, wantedLb - handLb);
      loads.push({ number: loads.length + 1, neededOn: date, tons: size / LB_PER_TON });
      handLb += size;
    }
    handLb -= lb;
    wantedLb -= lb;
  }
  return loads;
}
