import { InputError } from "../errors/index.ts";
import { inverseFromLower, invertLower, solveLowerInPlace, solveUpperInPlace } from "../numeric/index.ts";
import { factorFast } from "./arithmetic.ts";
import { type Covariance, compileCovariance } from "./covariance.ts";
import { checkSamples } from "./same-place.ts";
import type { Arithmetic, Samples, VariogramModel } from "./types.ts";
import { checkModel } from "./variogram-model.ts";

/**
 * The ordinary kriging equations of one set of samples, solved as far as they do not depend on the target.
 * With C the covariances, c those to the target and 1 the vector of ones, the Lagrange row eliminated by hand:
 * estimate = mean + c' dual, and
 * variance = C(target, target) - c' C^-1 c + (1 - c' unit)^2 / unitSum.
 */
export interface OrdinarySystem {
  readonly covariance: Covariance;
  readonly n: number;
  /** Samples after the anisotropy's turn and stretch, relative to the first sample. */
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly originX: number;
  readonly originY: number;
  /** Generalised-least-squares mean. */
  readonly mean: number;
  /** C^-1 (value - mean). */
  readonly dual: Float64Array;
  /** C^-1 1 and the sum of its entries. */
  readonly unit: Float64Array;
  readonly unitSum: number;
  /** Cholesky factor of C in the lower triangle. */
  readonly factor: Float64Array;
  /** Equal values and a model without variance: the estimate is the value, its variance 0. */
  readonly constant: boolean;
}

/**
 * Throws `samples-at-one-place`, `no-samples`, `variogram-model`, and `model-not-solvable` when the covariances
 * are singular in double precision. A model with no variance at all is accepted only for equal values.
 */
export function ordinarySystem(
  samples: Samples,
  model: VariogramModel,
  arithmetic: Arithmetic = "fastest",
): OrdinarySystem {
  checkModel(model);
  checkSamples(samples);
  const covariance = compileCovariance(model);
  const constant = covariance.total === 0;
  if (constant && samples.value.some((value) => value !== samples.value[0]))
    throw notSolvable(samples.value.length);
  const n = samples.value.length;
  const originX = samples.x[0]!;
  const originY = samples.y[0]!;
  const { u, v } = turned(covariance, samples.x, samples.y, originX, originY);
  const factor = covarianceMatrix(covariance, u, v);
  if (!factorFast(factor, n, arithmetic)) throw notSolvable(n);
  const unit = new Float64Array(n).fill(1);
  solveLowerInPlace(factor, n, unit);
  solveUpperInPlace(factor, n, unit);
  let unitSum = 0;
  for (let i = 0; i < n; i++) unitSum += unit[i]!;
  // Relative to the first value, so that a constant comes back as itself to the last digit.
  const base = samples.value[0]!;
  let weighted = 0;
  for (let i = 0; i < n; i++) weighted += unit[i]! * (samples.value[i]! - base);
  const mean = base + weighted / unitSum;
  const dual = samples.value.map((value) => value - mean);
  solveLowerInPlace(factor, n, dual);
  solveUpperInPlace(factor, n, dual);
  return { covariance, n, u, v, originX, originY, mean, dual, unit, unitSum, factor, constant };
}

/** Coordinates in the space where the covariance depends on distance alone. */
export function turned(
  { ux, uy, vx, vy }: Covariance,
  x: Float64Array,
  y: Float64Array,
  originX: number,
  originY: number,
): { u: Float64Array<ArrayBuffer>; v: Float64Array<ArrayBuffer> } {
  const u = new Float64Array(x.length);
  const v = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - originX;
    const dy = y[i]! - originY;
    u[i] = ux * dx + uy * dy;
    v[i] = vx * dx + vy * dy;
  }
  return { u, v };
}

/** Covariances between samples, nugget on the diagonal; only the lower triangle is filled. */
function covarianceMatrix(
  covariance: Covariance,
  u: Float64Array,
  v: Float64Array,
): Float64Array<ArrayBuffer> {
  const n = u.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++)
      matrix[i * n + j] = covariance.at((u[i]! - u[j]!) ** 2 + (v[i]! - v[j]!) ** 2);
    matrix[i * n + i] = covariance.total || 1;
  }
  return matrix;
}

/** C^-1, full and symmetric. */
export function inverseOf(system: OrdinarySystem): Float64Array<ArrayBuffer> {
  return inverseFromLower(invertLower(system.factor, system.n), system.n);
}

export function notSolvable(n: number): InputError {
  return new InputError(
    "model-not-solvable",
    `the variogram model makes the equations of ${n} samples singular in double precision`,
    "Give the model a nugget, or a structure less smooth than gaussian, or drop samples that all but coincide.",
  );
}
