import type { Point } from "../geo/index.ts";

/** One reading of a log in the field's plane. */
export interface LogPoint {
  /** Its number in the file. */
  readonly record: number;
  /** Metres. */
  readonly at: Point;
  /** Seconds from any start; null when the log has no time. */
  readonly seconds: number | null;
  readonly appliedLbPerAc: number;
  readonly widthM: number;
  /** A new number where the rig turned or jumped. */
  readonly pass: number;
  /** What the controller was to lay, where the log tells it. */
  readonly targetLbPerAc?: number | null;
  /** Way driven since the reading before, where the log tells it. */
  readonly wayM?: number;
}

/** What was covered between two readings. */
export interface LogPiece {
  readonly start: Point;
  readonly end: Point;
  readonly widthM: number;
  readonly lbPerAc: number;
  /** The reading whose rate and width it has; left out of pieces that are none of a log's. */
  readonly of?: LogPoint;
}
