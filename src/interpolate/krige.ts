import { factorInPlace, solveLowerInPlace } from "../numeric/index.ts";
import { compileCovariance } from "./covariance.ts";
import { estimator, GROUP } from "./estimator.ts";
import { nearestFinder } from "./nearest.ts";
import { notSolvable, ordinarySystem, turned } from "./ordinary-system.ts";
import { checkSamples } from "./same-place.ts";
import { supportOf } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";
import type { Kriged, KrigeOptions, Samples, Targets, VariogramModel } from "./types.ts";
import { checkModel } from "./variogram-model.ts";

/**
 * Ordinary kriging with a known variogram model, at points or over blocks, from all samples or the nearest few.
 * Results in target order. At a point on a sample the estimate is the sample and the variance 0, nugget or not;
 * a block takes no nugget. Throws `no-samples`, `samples-at-one-place`, `variogram-model`, `model-not-solvable`.
 */
export function krige(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  options: KrigeOptions = {},
): Kriged {
  if (targets.x.length !== targets.y.length) throw new Error("targets: arrays differ in length");
  if (options.nearest !== undefined && options.nearest < samples.x.length) {
    return krigeNearest(samples, model, targets, options.nearest, options);
  }
  const system = ordinarySystem(samples, model);
  const engine = estimator(system, supportOf(system.covariance, options.block), true);
  const { u, v } = turned(system.covariance, targets.x, targets.y, system.originX, system.originY);
  const estimate = new Float64Array(u.length);
  const variance = new Float64Array(u.length);
  for (let from = 0; from < u.length; from += GROUP) {
    const count = Math.min(GROUP, u.length - from);
    engine.evaluate(u.subarray(from, from + count), v.subarray(from, from + count), count);
    for (let k = 0; k < count; k++) {
      estimate[from + k] = engine.estimate[k]!;
      variance[from + k] = engine.variance[k]!;
    }
  }
  return { estimate, variance };
}

function krigeNearest(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  nearest: number,
  { block }: KrigeOptions,
): Kriged {
  checkModel(model);
  checkSamples(samples);
  const covariance = compileCovariance(model);
  if (covariance.total === 0) throw notSolvable(samples.value.length);
  const originX = samples.x[0]!;
  const originY = samples.y[0]!;
  const { u, v } = turned(covariance, samples.x, samples.y, originX, originY);
  const goal = turned(covariance, targets.x, targets.y, originX, originY);
  const support = supportOf(covariance, block);
  const covariances = targetCovariances(covariance, support, u, v);
  const { find, index } = nearestFinder(samples.x, samples.y, nearest);
  const m = index.length;
  const matrix = new Float64Array(m * m);
  const c = new Float64Array(m);
  const unit = new Float64Array(m);
  const value = new Float64Array(m);
  const estimate = new Float64Array(goal.u.length);
  const variance = new Float64Array(goal.u.length);
  for (let t = 0; t < goal.u.length; t++) {
    find(targets.x[t]!, targets.y[t]!);
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
    covariances(goal.u[t]!, goal.v[t]!, index, m, c, 0, 1);
    unit.fill(1);
    for (const side of [c, unit, value]) solveLowerInPlace(matrix, m, side);
    // With every side already multiplied by L^-1, each product below is one by C^-1.
    const unitSum = dot(unit, unit);
    const mean = dot(unit, value) / unitSum;
    const slack = 1 - dot(unit, c);
    estimate[t] = base + mean + dot(c, value) - mean * dot(c, unit);
    variance[t] = Math.max(0, support.within - dot(c, c) + (slack * slack) / unitSum);
  }
  return { estimate, variance };
}

function dot(a: Float64Array, b: Float64Array): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i]! * b[i]!;
  return total;
}
