import type { Point } from "../geo/index.ts";

/** One soil sample: elemental tests in ppm, exchange capacity in meq/100 g; null where the lab gave none. */
export interface SoilSample {
  readonly id: string;
  /** Line of the file, every line counted from 1. */
  readonly line: number;
  /** Longitude and latitude, degrees. */
  readonly at: Point;
  /** What the file's field column says, or null without one. */
  readonly field: string | null;
  readonly P: number | null;
  readonly K: number | null;
  readonly CEC: number | null;
}

export type SoilTest = "P" | "K" | "CEC";

/** How a test was read: unit in the file and extractant, and who said so. */
export interface TestReading {
  readonly heading: string;
  readonly unit: string;
  readonly method: string;
  readonly saidBy: "heading" | "answer";
}
