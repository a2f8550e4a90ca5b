import type { Arithmetic } from "./arithmetic.ts";
import { BATCH } from "./batch.ts";
import { estimator } from "./estimator.ts";
import { nearestKriger } from "./nearest-kriger.ts";
import { ordinarySystem, turned } from "./ordinary-system.ts";
import { supportOf } from "./support.ts";
import { samplesInReach, targetTiles } from "./target-tiles.ts";
import type { Kriged, KrigeOptions, Samples, Targets, VariogramModel } from "./types.ts";
import { VARIANCE_NEAREST, WHOLE_SYSTEM_SAMPLES } from "./whole-system.ts";

/**
 * Ordinary kriging with a known variogram model, at points or over blocks, from all samples or the nearest few.
 * Results in target order. At a point on a sample the estimate is the sample and the variance 0, nugget or not;
 * a block takes no nugget. Above 2,500 samples the variance comes from the nearest 32, the estimate still from all.
 * Throws `no-samples`, `samples-at-one-place`, `variogram-model`, `model-not-solvable`.
 */
export function krige(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  options: KrigeOptions & { readonly arithmetic?: Arithmetic } = {},
): Kriged {
  if (targets.x.length !== targets.y.length) throw new Error("targets: arrays differ in length");
  const { nearest, block, arithmetic = "fastest" } = options;
  const n = samples.x.length;
  if (nearest !== undefined && nearest < n) return krigeNearest(samples, model, targets, nearest, options);
  const whole = n <= WHOLE_SYSTEM_SAMPLES;
  const system = ordinarySystem(samples, model, arithmetic);
  const { covariance } = system;
  const support = supportOf(covariance, block);
  const engine = estimator(system, support, whole, arithmetic);
  const { u, v } = turned(covariance, targets.x, targets.y, system.originX, system.originY);
  const estimate = new Float64Array(u.length);
  const variance = new Float64Array(u.length);
  const active = new Int32Array(n);
  const batchU = new Float64Array(BATCH);
  const batchV = new Float64Array(BATCH);
  try {
    for (const tile of targetTiles(u, v, covariance.reachM)) {
      const used = samplesInReach(system, tile, covariance.reachM + support.radius, active);
      engine.useSamples(active, used);
      const { targets: list } = tile;
      for (let from = 0; from < list.length; from += BATCH) {
        const count = Math.min(BATCH, list.length - from);
        for (let k = 0; k < count; k++) {
          batchU[k] = u[list[from + k]!]!;
          batchV[k] = v[list[from + k]!]!;
        }
        engine.evaluate(batchU, batchV, count);
        for (let k = 0; k < count; k++) {
          estimate[list[from + k]!] = engine.estimate[k]!;
          variance[list[from + k]!] = engine.variance[k]!;
        }
      }
    }
  } finally {
    engine.close();
  }
  if (whole || system.constant) return { estimate, variance };
  return { estimate, variance: krigeNearest(samples, model, targets, VARIANCE_NEAREST, options).variance };
}

function krigeNearest(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  nearest: number,
  { block }: KrigeOptions,
): Kriged {
  const kriger = nearestKriger(samples, model, nearest, block);
  const estimate = new Float64Array(targets.x.length);
  const variance = new Float64Array(targets.x.length);
  for (let t = 0; t < estimate.length; t++) {
    kriger.evaluate(targets.x[t]!, targets.y[t]!);
    estimate[t] = kriger.estimate;
    variance[t] = kriger.variance;
  }
  return { estimate, variance };
}
