import { requireNumber } from "./require-number.ts";
import { type Rig, type Tenders, workRate } from "./rig.ts";
import { type SimulatedTender, simulateWork } from "./simulate-work.ts";
import { usableLoad } from "./usable-load.ts";

/** What the steady rate is asked for. */
export interface SteadyInput {
  readonly rig: Rig;
  readonly rateLbPerAc: number;
  readonly tenders: readonly SimulatedTender[];
  readonly loadLb?: number;
  readonly leaveBelowLb?: number;
}

/**
 * Steady ac/h by simulation, measured over whole rounds of all tenders after ten rounds of running in. For tenders
 * that are alike and hold whole loads it is the closed form; it is the figure for tenders that differ or leave a rest.
 */
export function steadyAcPerHour(input: SteadyInput): number {
  const { rig, tenders, rateLbPerAc, leaveBelowLb = 0 } = input;
  requireNumber("rateLbPerAc", rateLbPerAc, { above: 0 });
  requireNumber("the number of tenders", tenders.length, { atLeast: 1 });
  const loadLb = input.loadLb ?? usableLoad(rig).loadLb;
  const roundLb = tenders.reduce((sum, tender) => sum + tender.lb, 0);
  const hoursOfRound =
    roundLb / rateLbPerAc / workRate(rig) +
    (roundLb / loadLb + 2 * tenders.length) * (rig.fixedHoursPerStop + loadLb / rig.transferLbPerHour) +
    Math.max(...tenders.map((tender) => tender.tripHours));
  const rounds = 40;
  const { fills } = simulateWork({
    rig,
    loadLb,
    tenders,
    leaveBelowLb,
    hours: rounds * hoursOfRound,
    fields: [{ id: "", areaAc: (rounds * roundLb * 2) / rateLbPerAc, rateLbPerAc }],
  });
  return rateOverRounds(fills.map(({ atHour, acresBefore }) => ({ hour: atHour, acres: acresBefore })));
}

/** Longest stretch that begins and ends in the same place of the round: the times between fills repeat there. */
function rateOverRounds(points: readonly { readonly hour: number; readonly acres: number }[]): number {
  const from = Math.floor(points.length / 4);
  const gap = (i: number): number => points[i + 1]!.hour - points[i]!.hour;
  const acres = (i: number): number => points[i + 1]!.acres - points[i]!.acres;
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
  const length = Math.min(points.length - 1 - from, 400);
  for (let period = 1; period <= length / 2; period++) {
    let repeats = true;
    for (let i = from; i + period < from + length && repeats; i++) {
      repeats = near(gap(i), gap(i + period)) && near(acres(i), acres(i + period));
    }
    if (!repeats) continue;
    const rounds = Math.floor(length / period);
    const last = points[from + rounds * period]!;
    return (last.acres - points[from]!.acres) / (last.hour - points[from]!.hour);
  }
  const last = points.at(-1)!;
  return (last.acres - points[from]!.acres) / (last.hour - points[from]!.hour);
}

/** Acres an hour when a tender stays until it is empty, and when it leaves with little in it. */
export interface LeavePolicy {
  readonly stayAcPerHour: number;
  readonly leaveAcPerHour: number;
  /** lb under which a tender leaves in the second figure. */
  readonly leaveBelowLb: number;
  readonly better: "stay" | "leave";
}

/** Whether tenders do better to stay for a small rest or to leave with it; under a quarter load by default (ours). */
export function leavePolicy(input: SteadyInput): LeavePolicy {
  const loadLb = input.loadLb ?? usableLoad(input.rig).loadLb;
  const leaveBelowLb = input.leaveBelowLb ?? 0.25 * loadLb;
  const stayAcPerHour = steadyAcPerHour({ ...input, leaveBelowLb: 0 });
  const leaveAcPerHour = steadyAcPerHour({ ...input, leaveBelowLb });
  const better = leaveAcPerHour > stayAcPerHour * (1 + 1e-12) ? "leave" : "stay";
  return { stayAcPerHour, leaveAcPerHour, leaveBelowLb, better };
}

/** Tenders that are alike as a list. */
export const tenderList = ({ count, lb, tripHours }: Tenders): SimulatedTender[] =>
  Array.from({ length: count }, () => ({ lb, tripHours }));
