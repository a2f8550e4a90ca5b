import { rateAtHours, requireNumber, type TimeLines } from "../capacity/index.ts";

interface ChaseInput {
  /** Of the planter. */
  readonly acres: number;
  /** Of them stripped before the days are counted; none when absent. */
  readonly strippedAc?: number;
  readonly planterAcPerDay: number;
  /** Workable days of stripping before planting starts. */
  readonly workableDaysBefore: number;
  /** Strips must be so many workable days ahead. */
  readonly leadDays: number;
  /** Acres a day stripped at today's rate. */
  readonly acPerDay: number;
  /** To turn acres a day into a strip rate. */
  readonly lines?: TimeLines;
  readonly hoursPerDay?: number;
}

export interface PlanterChase {
  /** Acres a day that keep ahead, at the start of planting, at its end, and the larger of both; null for never. */
  readonly neededAtStartAcPerDay: number | null;
  readonly neededAtEndAcPerDay: number | null;
  readonly neededAcPerDay: number | null;
  /** Workable days before planting that today's acres a day need, as a continuous figure. */
  readonly workableDaysNeeded: number;
  /** Whole days by the day-by-day check, which is exact; at most one less than the figure above rounded up. */
  readonly wholeDaysNeeded: number;
  /** Day-by-day check at `workableDaysBefore`. */
  readonly keepsAhead: boolean;
  /**
   * First workable day of stripping, counted from 1, at whose end the strips are not far enough ahead: the last before planting
   * begins, or a later one; null when they always are.
   */
  readonly firstShortDay: number | null;
  /** lb/ac in the strip up to which the needed acres a day are kept; null without lines or when no rate does. */
  readonly highestRateLbPerAc: number | null;
}

/** Keeping ahead of one planter; workable days are the same for both machines. Throws `number-not-usable`. */
export function planterChase(input: ChaseInput): PlanterChase {
  const {
    acres,
    strippedAc: stripped = 0,
    planterAcPerDay: planter,
    workableDaysBefore: before,
    leadDays: lead,
    acPerDay,
    lines,
    hoursPerDay,
  } = input;
  requireNumber("acres", acres, { above: 0 });
  requireNumber("strippedAc", stripped);
  requireNumber("planterAcPerDay", planter, { above: 0 });
  requireNumber("workableDaysBefore", before);
  requireNumber("leadDays", lead);
  requireNumber("acPerDay", acPerDay, { above: 0 });
  // No days before planting and a lead to keep: no pace is fast enough.
  // A lead larger than the farm wants all of it stripped before planting starts, and no more.
  const ahead = Math.min(planter * lead, acres);
  const aheadLeft = Math.max(0, ahead - stripped);
  const left = Math.max(0, acres - stripped);
  const atStart = aheadLeft === 0 ? 0 : before > 0 ? aheadLeft / before : null;
  const days = ahead < acres ? before + acres / planter - lead : before;
  const atEnd = left === 0 ? 0 : days > 0 ? left / days : null;
  // A rig as fast as the planter can only be short at the start.
  const needed =
    atStart === null ? null : Math.max(atStart, Math.min(atEnd ?? Number.POSITIVE_INFINITY, planter));
  const workableDaysNeeded =
    acPerDay >= planter || ahead === acres
      ? aheadLeft / acPerDay
      : Math.max(aheadLeft / acPerDay, left === 0 ? 0 : left / acPerDay - acres / planter + lead);
  let wholeDaysNeeded = Math.max(0, Math.floor(workableDaysNeeded) - 1);
  while (firstShort(input, wholeDaysNeeded) !== null) wholeDaysNeeded++;
  const short = firstShort(input, before);
  return {
    neededAtStartAcPerDay: atStart,
    neededAtEndAcPerDay: atEnd,
    neededAcPerDay: needed,
    workableDaysNeeded,
    wholeDaysNeeded,
    keepsAhead: short === null,
    firstShortDay: short,
    highestRateLbPerAc:
      lines === undefined || needed === null
        ? null
        : highestRate(lines, requireNumber("hoursPerDay", hoursPerDay ?? Number.NaN, { above: 0 }) / needed),
  };
}

/** lb/ac at which every line is at or below the hours per acre; null when even an empty bin is too slow, or any rate is fine. */
function highestRate(lines: TimeLines, hoursPerAc: number): number | null {
  const rate = rateAtHours(lines, hoursPerAc);
  return Number.isFinite(rate) && rate >= 0 ? rate : null;
}

/** First workable day k >= before at whose end min(A, S + C k) < min(A, p (k + lead - before)), S stripped before; null when there is none. */
function firstShort(input: ChaseInput, before: number): number | null {
  const { acres, strippedAc = 0, planterAcPerDay, leadDays, acPerDay } = input;
  for (let k = Math.ceil(before); ; k++) {
    const wanted = Math.min(acres, planterAcPerDay * (k + leadDays - before));
    const done = Math.min(acres, strippedAc + acPerDay * k);
    if (done < wanted - 1e-9 * acres) return k;
    if (wanted >= acres) return null;
  }
}
