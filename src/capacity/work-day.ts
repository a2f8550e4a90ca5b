import { requireNumber } from "./require-number.ts";
import type { Rig } from "./rig.ts";
import {
  type SimulatedField,
  type SimulatedTender,
  type SimulatedWork,
  simulateWork,
} from "./simulate-work.ts";

/** `full`: bin and tenders filled overnight. `bin-empty`: the bin was emptied. `all-empty`: tenders leave to load at the start. */
export type DayStart = "full" | "bin-empty" | "all-empty";

/** What `workDay` takes. */
export interface WorkDayInput {
  readonly rig: Rig;
  readonly loadLb?: number;
  readonly tenders?: readonly SimulatedTender[];
  readonly leaveBelowLb?: number;
  /** Fields in working order, with moves and trips; or one rate for a day in one big field. */
  readonly fields?: readonly SimulatedField[];
  readonly rateLbPerAc?: number;
}

/** One working day of `rig.hoursPerDay`. Throws `number-not-usable` when neither fields nor a rate are given. */
export function workDay(input: WorkDayInput, start: DayStart): SimulatedWork {
  const { rig, tenders, fields, rateLbPerAc } = input;
  const hours = requireNumber("hoursPerDay", rig.hoursPerDay, { above: 0, atMost: 24 });
  const oneField = (): SimulatedField => ({
    id: "",
    // More than any rig can do in a day.
    areaAc: 1e5,
    rateLbPerAc: requireNumber("rateLbPerAc", rateLbPerAc ?? Number.NaN),
  });
  const standing =
    start === "all-empty"
      ? tenders?.map((tender) => ({ ...tender, startLb: 0, backAtHour: tender.tripHours }))
      : tenders;
  return simulateWork({
    rig,
    hours,
    fields: fields ?? [oneField()],
    ...(input.loadLb === undefined ? {} : { loadLb: input.loadLb }),
    ...(input.leaveBelowLb === undefined ? {} : { leaveBelowLb: input.leaveBelowLb }),
    ...(standing === undefined ? {} : { tenders: standing }),
    ...(start === "full" ? {} : { startBinLb: 0 }),
  });
}

/** Hoppers are emptied for the night when its humidity goes above the blend's limit, percent. */
export const startAfterNight = (nightHumidityPercent: number, limitPercent: number): DayStart =>
  nightHumidityPercent > limitPercent ? "bin-empty" : "full";
