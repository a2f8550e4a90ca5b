import { dot, factorInPlace, solveLowerInPlace } from "../numeric/index.ts";
import { compileCovariance } from "./covariance.ts";
import { nearestFinder } from "./nearest.ts";
import { notSolvable, turned } from "./ordinary-system.ts";
import { checkSamples } from "./same-place.ts";
import { supportOf } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";
import type { Block, Samples, VariogramModel } from "./types.ts";
import { checkModel } from "./variogram-model.ts";

/** Ordinary kriging from the nearest few samples: one small system for each target. */
interface NearestKriger {
  /** Leaves its answer for the target at (x, y) in `estimate` and `variance`. */
  readonly evaluate: (x: number, y: number) => void;
  readonly estimate: number;
  readonly variance: number;
}

/** Nearest by plain distance, whatever the anisotropy. Errors as `krige`; those of a small system come from `evaluate`. */
export function nearestKriger(
  samples: Samples,
  model: VariogramModel,
  nearest: number,
  block: Block | undefined,
): NearestKriger {
  checkModel(model);
  checkSamples(samples);
  const covariance = compileCovariance(model);
  if (covariance.total === 0) throw notSolvable(samples.value.length);
  const { ux, uy, vx, vy } = covariance;
  const originX = samples.x[0]!;
  const originY = samples.y[0]!;
  const { u, v } = turned(covariance, samples.x, samples.y, originX, originY);
  const support = supportOf(covariance, block);
  const covariances = targetCovariances(covariance, support, u, v);
  const { find, index } = nearestFinder(samples.x, samples.y, nearest);
  const m = index.length;
  const matrix = new Float64Array(m * m);
  const c = new Float64Array(m);
  const unit = new Float64Array(m);
  const value = new Float64Array(m);
  const answer = { estimate: Number.NaN, variance: Number.NaN };
  const evaluate = (x: number, y: number): void => {
    find(x, y);
    const base = samples.value[index[0]!]!;
    for (let i = 0; i < m; i++) {
      const a = index[i]!;
      for (let j = 0; j < i; j++) {
        const b = index[j]!;
        matrix[i * m + j] = covariance.at((u[a]! - u[b]!) ** 2 + (v[a]! - v[b]!) ** 2);
      }
      matrix[i * m + i] = covariance.total;
      value[i] = samples.value[a]! - base;
    }
    if (!factorInPlace(matrix, m)) throw notSolvable(m);
    const dx = x - originX;
    const dy = y - originY;
    covariances(ux * dx + uy * dy, vx * dx + vy * dy, index, m, c, 0, 1);
    unit.fill(1);
    for (const side of [c, unit, value]) solveLowerInPlace(matrix, m, side);
    // With every side already multiplied by L^-1, each product below is one by C^-1.
    const unitSum = dot(unit, unit);
    const mean = dot(unit, value) / unitSum;
    const slack = 1 - dot(unit, c);
    answer.estimate = base + mean + dot(c, value) - mean * dot(c, unit);
    answer.variance = Math.max(0, support.within - dot(c, c) + (slack * slack) / unitSum);
  };
  return Object.assign(answer, { evaluate });
}
