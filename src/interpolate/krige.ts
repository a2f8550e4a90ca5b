import { BATCH } from "./batch.ts";
import { estimator } from "./estimator.ts";
import { nearestKriger } from "./nearest-kriger.ts";
import { ordinarySystem, turned } from "./ordinary-system.ts";
import { Pacer } from "./pacer.ts";
import { supportOf } from "./support.ts";
import { samplesInReach, targetTiles } from "./target-tiles.ts";
import { nearestWork, targetWork } from "./target-work.ts";
import type {
  Arithmetic,
  Block,
  Kriged,
  KrigeOptions,
  Pacing,
  Samples,
  Targets,
  VariogramModel,
} from "./types.ts";
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
  options: KrigeTargetsOptions = {},
): Kriged {
  const steps = krigeSteps(samples, model, targets, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** `krige` that lets its host breathe; also throws `StoppedError`. */
export async function krigeTargets(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  options: KrigeTargetsOptions & PacedTargets,
): Promise<Kriged> {
  const pacer = new Pacer(options);
  const steps = krigeSteps(samples, model, targets, options);
  let done = 0;
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    done += step.value.targets;
    if (!pacer.due(step.value.work)) continue;
    options.onTargets?.(done, targets.x.length);
    try {
      await pacer.pause();
    } catch (error) {
      steps.return({ estimate: new Float64Array(), variance: new Float64Array() });
      throw error;
    }
  }
}

interface KrigeTargetsOptions extends KrigeOptions {
  readonly arithmetic?: Arithmetic;
}

export interface PacedTargets extends Pick<Pacing, "signal" | "pause"> {
  /** Called at every pause. */
  readonly onTargets?: (done: number, total: number) => void;
}

/** What was done since the last step: targets finished, and multiply-and-adds. */
interface Step {
  readonly targets: number;
  readonly work: number;
}

function* krigeSteps(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  options: KrigeTargetsOptions,
): Generator<Step, Kriged, undefined> {
  if (targets.x.length !== targets.y.length) throw new Error("targets: arrays differ in length");
  const { nearest, block, arithmetic = "fastest" } = options;
  const n = samples.x.length;
  if (nearest !== undefined && nearest < n)
    return yield* nearestSteps(samples, model, targets, nearest, block);
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
        yield { targets: whole ? count : 0, work: count * targetWork(used, block, whole) };
      }
    }
  } finally {
    engine.close();
  }
  if (whole || system.constant) return { estimate, variance };
  const near = yield* nearestSteps(samples, model, targets, VARIANCE_NEAREST, block);
  return { estimate, variance: near.variance };
}

function* nearestSteps(
  samples: Samples,
  model: VariogramModel,
  targets: Targets,
  nearest: number,
  block: Block | undefined,
): Generator<Step, Kriged, undefined> {
  const kriger = nearestKriger(samples, model, nearest, block);
  const estimate = new Float64Array(targets.x.length);
  const variance = new Float64Array(targets.x.length);
  const work = nearestWork(samples.x.length, nearest, block);
  for (let t = 0; t < estimate.length; t++) {
    kriger.evaluate(targets.x[t]!, targets.y[t]!);
    estimate[t] = kriger.estimate;
    variance[t] = kriger.variance;
    yield { targets: 1, work };
  }
  return { estimate, variance };
}
