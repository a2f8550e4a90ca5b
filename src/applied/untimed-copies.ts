import { KG_PER_HA_PER_LB_PER_AC } from "../units/index.ts";
import type { LogPoint } from "./log-types.ts";

/** So many readings in a row, at places of their own, that stand in a log before are no chance: a second pass does not meet them (ours). */
const LEAST_IN_A_ROW = 20;

/** lb/ac by which two exports of one reading differ at most: whole kg/ha, and tenths of lb/ac. */
const SAME_LB_PER_AC = 0.5 / KG_PER_HA_PER_LB_PER_AC + 0.05;

/**
 * Readings that a log without times has a second time, as where a day's file and a display's file of all days are given
 * together: the very same place and, but for rounding, rate as earlier ones, many in a row and in their order. One that a second pass meets by
 * chance stays, and so does a rig that stands still. Of two readings with times the times tell (`timeFaults`).
 */
export function untimedCopies(log: readonly LogPoint[]): ReadonlySet<LogPoint> {
  const copies = new Set<LogPoint>();
  if (log.every(({ seconds }) => seconds !== null)) return copies;
  const keys = log.map(({ at }) => `${at[0]} ${at[1]}`);
  const isSame = (j: number, k: number): boolean =>
    keys[j] === keys[k] &&
    Math.abs(log[j]!.appliedLbPerAc - log[k]!.appliedLbPerAc) <= SAME_LB_PER_AC &&
    (log[j]!.seconds === null || log[k]!.seconds === null);
  const firsts = new Map<string, number>();
  let [row, places, source]: [LogPoint[], number, number] = [[], 0, -1];
  const closeRow = (): void => {
    if (places >= LEAST_IN_A_ROW) for (const point of row) copies.add(point);
    [row, places, source] = [[], 0, -1];
  };
  log.forEach((point, k) => {
    const first = firsts.get(keys[k]!);
    if (first === undefined) firsts.set(keys[k]!, k);
    const goesOn = source >= 0 && isSame(source + 1, k);
    if (!goesOn) closeRow();
    const next = goesOn ? source + 1 : first;
    if (next === undefined || !isSame(next, k)) return;
    if (row.length === 0 || keys[k] !== keys[k - 1]) places++;
    row.push(point);
    source = next;
  });
  closeRow();
  return copies;
}
