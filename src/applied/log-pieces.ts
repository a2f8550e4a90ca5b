import type { Notice } from "../errors/index.ts";
import { distance } from "../geo/index.ts";
import { counted } from "../units/index.ts";
import { timeFaults } from "./in-time.ts";
import type { LogPiece, LogPoint } from "./log-types.ts";
import { untimedCopies } from "./untimed-copies.ts";

interface CleanLog {
  readonly points: readonly LogPoint[];
  readonly pieces: readonly LogPiece[];
  readonly notices: readonly Notice[];
}

/** Metres between readings above which the way between is not filled in, where nobody says otherwise. */
export const LONGEST_GAP_M = 30;

interface CleanLimits {
  /** lb/ac no meter of the rig can do; such readings are left out. */
  readonly mostLbPerAc?: number;
  /** Metres between readings above which the way between is not filled in. */
  readonly longestGapM?: number;
  /** Product of the log, for what is refused of it. */
  readonly of?: string;
}

/** Records named in a notice, at most. */
const MOST_NAMED = 3;

/** A way told for the first reading of a pass counts up to so many times the way to the next: beyond it is the turn. */
const WAYS_OF_FIRST = 2;

/**
 * A log without what cannot be true: readings out of order in time, there a second time, in one place, with a rate beyond the limit, without a
 * width; gaps that are too long are left open. A rate of 0 stays: it is land that got nothing. Each piece has the rate of
 * its later reading; the first reading of a pass has the way told for it, straight back. What was left out is counted in notices.
 * Where a clock was set back the points come without times, as `timeFaults` says, which may throw.
 */
export function cleanLog(log: readonly LogPoint[], limits: CleanLimits = {}): CleanLog {
  const { mostLbPerAc = 3_000, longestGapM = LONGEST_GAP_M, of } = limits;
  const left = new Map<string, number[]>();
  const leave = (reason: string, point: LogPoint): void => {
    left.set(reason, [...(left.get(reason) ?? []), point.record]);
  };
  const likely = log.filter((point) => {
    const reason = whyNot(point, mostLbPerAc);
    if (reason !== null) leave(reason, point);
    return reason === null;
  });
  const untimed = untimedCopies(likely);
  const once = likely.filter((point) => !untimed.has(point));
  const { out: late, copies, setBack } = timeFaults(once, longestGapM, of);
  const points: LogPoint[] = [];
  const pieces: LogPiece[] = [];
  let gaps = 0;
  // As it was given: without its time a point is another object.
  let before: LogPoint | undefined;
  for (const point of likely) {
    const isTwice = untimed.has(point) || copies.has(point);
    if (isTwice || late.has(point)) leave(isTwice ? "the log has them twice" : "time does not go on", point);
    else if (before !== undefined && before.pass === point.pass && distance(before.at, point.at) < 1e-3) {
      leave("rig stood still", point);
    } else {
      const last = before;
      before = point;
      points.push(setBack.length > 0 ? { ...point, seconds: null } : point);
      if (last === undefined || last.pass !== point.pass) continue;
      if (distance(last.at, point.at) > longestGapM) gaps++;
      else {
        if (points.at(-3)?.pass !== last.pass) pieces.push(...wayOfFirst(last, point));
        const { widthM, appliedLbPerAc: lbPerAc } = point;
        pieces.push({ start: last.at, end: point.at, widthM, lbPerAc, of: point });
      }
    }
  }
  const notices: Notice[] = [...left].map(([reason, records]) => ({
    code: "readings-left-out",
    message: `${records.length} of ${log.length} readings left out: ${reason}`,
    where: `record ${records[0]}`,
  }));
  if (setBack.length > 0) {
    const places = setBack.slice(0, MOST_NAMED).map(({ record }) => record);
    const more = setBack.length > places.length ? " and on" : "";
    const message = `the times go back at record ${places.join(", ")}${more}, as where a clock is set: they are not used, the readings count in the order of the file`;
    notices.push({ code: "times-go-back", message, where: `record ${places[0]}` });
  }
  if (gaps > 0) {
    const message = `${counted(gaps, "gap")} over ${longestGapM} m in the log left open: they count as skips`;
    notices.push({ code: "gaps-in-log", message, where: "log" });
  }
  return { points, pieces, notices };
}

/** Why a reading cannot be true by itself; null where it may be. */
function whyNot({ at, appliedLbPerAc, widthM }: LogPoint, mostLbPerAc: number): string | null {
  if (!Number.isFinite(at[0] + at[1] + appliedLbPerAc) || appliedLbPerAc < 0)
    return "no number, or a rate below 0";
  if (!(widthM > 0)) return "no width";
  return appliedLbPerAc > mostLbPerAc ? `over ${mostLbPerAc} lb/ac` : null;
}

/** What the first reading of a pass covered, in line with the way to the second; nothing where its way is not told. */
function wayOfFirst(of: LogPoint, next: LogPoint): LogPiece[] {
  const { at, wayM = 0, widthM, appliedLbPerAc } = of;
  const stepM = distance(at, next.at);
  if (!(wayM > 0) || wayM > WAYS_OF_FIRST * stepM) return [];
  const back = (axis: 0 | 1): number => at[axis] - ((next.at[axis] - at[axis]) * wayM) / stepM;
  return [{ start: [back(0), back(1)], end: at, widthM, lbPerAc: appliedLbPerAc, of }];
}
