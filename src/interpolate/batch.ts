/** Targets are worked on four at a time, so that one reading of the inverse serves them all. */
export const GROUP = 4;
/** Most targets in one call: a few groups, so that the inverse is read from memory once for all of them. */
export const BATCH = 32;

/** Estimates targets of one support from one system; it owns the working arrays. */
export interface Estimator {
  /** From now on only these samples have a covariance with the targets (ascending positions). */
  readonly useSamples: (active: Int32Array, count: number) => void;
  /** Up to `BATCH` targets in turned coordinates; results go to the first places of `estimate` and `variance`. */
  readonly evaluate: (targetU: Float64Array, targetV: Float64Array, count: number) => void;
  readonly estimate: Float64Array;
  readonly variance: Float64Array;
  /** Gives its memory back. */
  readonly close: () => void;
}

/** From c' unit, half of c' C^-1 c, the covariance of the target with itself, and 1' C^-1 1. */
export function varianceOf(t: number, half: number, within: number, unitSum: number): number {
  return Math.max(0, ((1 - t) * (1 - t)) / unitSum + within - 2 * half);
}

export function sameStart(a: Int32Array, b: Int32Array, count: number): boolean {
  for (let i = 0; i < count; i++) if (a[i] !== b[i]) return false;
  return true;
}
