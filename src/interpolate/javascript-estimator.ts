import { BATCH, type Estimator, GROUP, sameStart, varianceOf } from "./batch.ts";
import { inverseOf, type OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";

/** The estimator in plain JavaScript. */
export function javascriptEstimator(
  system: OrdinarySystem,
  support: Support,
  withVariance: boolean,
): Estimator {
  const { n, dual, unit, unitSum, mean, constant } = system;
  const covariances = targetCovariances(system.covariance, support, system.u, system.v);
  const inverse = withVariance && !constant ? inverseOf(system) : undefined;
  const estimate = new Float64Array(BATCH);
  const variance = new Float64Array(BATCH);
  const c = new Float64Array(GROUP * n);
  const half = new Float64Array(GROUP);
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
    for (let from = 0; from < targets; from += GROUP) {
      const group = Math.min(GROUP, targets - from);
      if (group < GROUP) c.fill(0);
      for (let k = 0; k < group; k++)
        covariances(targetU[from + k]!, targetV[from + k]!, active, count, c, k, GROUP);
      if (square !== undefined) halfSquares(square, count, c, half);
      for (let k = 0; k < group; k++) {
        let e = 0;
        let t = 0;
        for (let i = 0; i < count; i++) {
          const ci = c[GROUP * i + k]!;
          e += ci * dual[active[i]!]!;
          t += ci * unit[active[i]!]!;
        }
        estimate[from + k] = mean + e;
        variance[from + k] = square === undefined ? 0 : varianceOf(t, half[k]!, support.within, unitSum);
      }
    }
  };

  return { useSamples, evaluate, estimate, variance, close: () => {} };
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

/** Half of c_k' Q c_k for the four targets k; Q symmetric, read from its lower triangle. */
function halfSquares(square: Float64Array, count: number, c: Float64Array, half: Float64Array): void {
  let t0 = 0;
  let t1 = 0;
  let t2 = 0;
  let t3 = 0;
  for (let i = 0; i < count; i++) {
    const row = i * count;
    const diagonal = square[row + i]! / 2;
    const c0 = c[4 * i]!;
    const c1 = c[4 * i + 1]!;
    const c2 = c[4 * i + 2]!;
    const c3 = c[4 * i + 3]!;
    let s0 = diagonal * c0;
    let s1 = diagonal * c1;
    let s2 = diagonal * c2;
    let s3 = diagonal * c3;
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
  half[0] = t0;
  half[1] = t1;
  half[2] = t2;
  half[3] = t3;
}
