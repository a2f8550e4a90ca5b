import { inverseOf, type OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";

/** Targets are worked on in groups of this many, so that one reading of the inverse serves them all. */
export const GROUP = 4;

/** Estimates targets of one support from one system; it owns the working arrays. */
export interface Estimator {
  /** From now on only these samples have a covariance with the targets (ascending positions). */
  readonly useSamples: (active: Int32Array, count: number) => void;
  /** Up to `GROUP` targets in turned coordinates; results go to the first places of `estimate` and `variance`. */
  readonly evaluate: (targetU: Float64Array, targetV: Float64Array, count: number) => void;
  readonly estimate: Float64Array;
  readonly variance: Float64Array;
}

/** Starts with all samples in use. Without `withVariance` the inverse is never made and `variance` stays 0. */
export function estimator(system: OrdinarySystem, support: Support, withVariance: boolean): Estimator {
  const { n, dual, unit, unitSum, mean, constant } = system;
  const covariances = targetCovariances(system.covariance, support, system.u, system.v);
  const inverse = withVariance && !constant ? inverseOf(system) : undefined;
  const estimate = new Float64Array(GROUP);
  const variance = new Float64Array(GROUP);
  const c = new Float64Array(GROUP * n);
  const part = inverse === undefined ? undefined : new Float64Array(n * n);
  let active = Int32Array.from({ length: n }, (_, i) => i);
  let count = n;
  let square = inverse;

  const useSamples = (next: Int32Array, nextCount: number): void => {
    if (nextCount === count && sameStart(active, next, count)) return;
    active = next.slice(0, nextCount);
    count = nextCount;
    if (inverse === undefined || part === undefined) return;
    square = count === n ? inverse : part;
    if (count < n) gatherLower(inverse, n, active, count, part);
  };

  const evaluate = (targetU: Float64Array, targetV: Float64Array, targets: number): void => {
    if (targets < GROUP) c.fill(0);
    for (let k = 0; k < targets; k++) covariances(targetU[k]!, targetV[k]!, active, count, c, k, GROUP);
    for (let k = 0; k < targets; k++) {
      let e = 0;
      let t = 0;
      for (let i = 0; i < count; i++) {
        const ci = c[GROUP * i + k]!;
        e += ci * dual[active[i]!]!;
        t += ci * unit[active[i]!]!;
      }
      estimate[k] = mean + e;
      variance[k] = ((1 - t) * (1 - t)) / unitSum;
    }
    if (square === undefined) variance.fill(0);
    else subtractSquares(square, count, c, support.within, variance);
  };

  return { useSamples, evaluate, estimate, variance };
}

function sameStart(a: Int32Array, b: Int32Array, count: number): boolean {
  for (let i = 0; i < count; i++) if (a[i] !== b[i]) return false;
  return true;
}

function gatherLower(
  full: Float64Array,
  n: number,
  active: Int32Array,
  count: number,
  out: Float64Array,
): void {
  for (let i = 0; i < count; i++) {
    const row = active[i]! * n;
    for (let j = 0; j <= i; j++) out[i * count + j] = full[row + active[j]!]!;
  }
}

/** variance[k] += within - c_k' Q c_k, never below 0; Q symmetric, read from its lower triangle. */
function subtractSquares(
  square: Float64Array,
  count: number,
  c: Float64Array,
  within: number,
  variance: Float64Array,
): void {
  let t0 = 0;
  let t1 = 0;
  let t2 = 0;
  let t3 = 0;
  for (let i = 0; i < count; i++) {
    const row = i * count;
    const half = square[row + i]! / 2;
    const c0 = c[4 * i]!;
    const c1 = c[4 * i + 1]!;
    const c2 = c[4 * i + 2]!;
    const c3 = c[4 * i + 3]!;
    let s0 = half * c0;
    let s1 = half * c1;
    let s2 = half * c2;
    let s3 = half * c3;
    for (let j = 0, p = 0; j < i; j++, p += 4) {
      const q = square[row + j]!;
      s0 += q * c[p]!;
      s1 += q * c[p + 1]!;
      s2 += q * c[p + 2]!;
      s3 += q * c[p + 3]!;
    }
    t0 += c0 * s0;
    t1 += c1 * s1;
    t2 += c2 * s2;
    t3 += c3 * s3;
  }
  variance[0] = Math.max(0, variance[0]! + within - 2 * t0);
  variance[1] = Math.max(0, variance[1]! + within - 2 * t1);
  variance[2] = Math.max(0, variance[2]! + within - 2 * t2);
  variance[3] = Math.max(0, variance[3]! + within - 2 * t3);
}
