import type { Point } from "../geo/index.ts";

/** One soil sample: elemental tests in ppm, exchange capacity in meq/100 g; null where the lab gave none. */
export interface SoilSample {
  readonly id: string;
  /** Its number in the file: the line, every line counted from 1, or the record or feature. */
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
/** The tests that are mapped. */
export const TESTS: readonly SoilTest[] = ["P", "K", "CEC"];

/** How a test was read: unit in the file and extractant, and who said so: `heading` where nothing was left to ask. */
export interface TestReading {
  readonly heading: string;
  /** Of the file's values; the samples hold ppm. */
  readonly unit: string;
  readonly method: string;
  readonly saidBy: "heading" | "answer";
  /** Given when the values stand for the oxide P2O5 or K2O and were turned into the element. */
  readonly oxide?: "P2O5" | "K2O";
  /** The lab's own code of the method, where the file gives one. */
  readonly code?: string;
}
