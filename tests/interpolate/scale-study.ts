// Which scale should a skewed soil test be mapped on? Three ways, on simulated lognormal fields where the truth is known.
import { averageNodes, nodeWeights, rangesOver } from "../../src/interpolate/averaged-model.ts";
import { chooseModel, krige, type Samples, type VariogramModel } from "../../src/interpolate/index.ts";
import { boundingDiagonalM, likelihoodGrid } from "../../src/interpolate/likelihood-grid.ts";
import { ordinarySystem, turned } from "../../src/interpolate/ordinary-system.ts";
import { supportOf } from "../../src/interpolate/support.ts";
import { targetCovariances } from "../../src/interpolate/target-covariances.ts";
import { simulate, uniform } from "./simulate.ts";

export type Scale =
  | "as reported"
  | "outliers pulled back in the map too"
  | "log for the node weights"
  | "log, unbiased return"
  | "log, plain return";

/** A block so small that it only takes the nugget out: the truth below is the structured part. */
const SPOT = { widthM: 1, heightM: 1 };
const SIDE_M = 800;

export interface ScaleResult {
  readonly scale: Scale;
  /** Mean squared error over the variance of the truth, mean over fields. */
  readonly relativeError: number;
  /** Bias of the field's mean, as a share of it. */
  readonly meanBias: number;
  /** Bias of the pounds wanted below the field's true mean (need = that mean less the test), as a share of them. */
  readonly needBias: number;
}

/**
 * How a test follows from the Gaussian field g: exp(g); (1 + g)^2; or exp(g) with one sample in 25 tripled, as by a spot
 * of fertilizer, where the truth is the field without it.
 */
export type Shape = "lognormal" | "squared" | "spots";

/** `sigma`: standard deviation of g, nugget included; `nuggetShare` of its variance; `range` over the side. */
export function scaleStudy(
  fields: number,
  n: number,
  shape: Shape,
  { sigma, nuggetShare, range }: { sigma: number; nuggetShare: number; range: number },
): ScaleResult[] {
  const truthModel: VariogramModel = {
    nugget: nuggetShare * sigma ** 2,
    structures: [{ type: "spherical", partialSill: (1 - nuggetShare) * sigma ** 2, range: range * SIDE_M }],
  };
  const maps: Record<Scale, (samples: Samples, targets: Targets) => Float64Array> = {
    "as reported": asReported,
    "outliers pulled back in the map too": pulledBack,
    "log for the node weights": logWeights,
    "log, unbiased return": (samples, targets) => logMap(samples, targets, true),
    "log, plain return": (samples, targets) => logMap(samples, targets, false),
  };
  const totals = new Map<Scale, [number, number, number]>();
  let need = 0;
  let level = 0;
  for (let seed = 1; seed <= fields; seed++) {
    const { samples: gaussian, targets, structured } = simulate(n, SIDE_M, truthModel, seed * 10_007 + n);
    const next = uniform(seed);
    const spot = (): number => (shape === "spots" && next() < 1 / 25 ? 3 : 1);
    const square = shape === "squared";
    const test = (g: number): number => 20 * (square ? Math.max(0.05, 1 + g) ** 2 : Math.exp(g)) * spot();
    const samples = { ...gaussian, value: gaussian.value.map(test) };
    // The mean over the nugget: what a cell holds.
    const truth = structured.map(
      (g) => 20 * (square ? (1 + g) ** 2 + truthModel.nugget : Math.exp(g + truthModel.nugget / 2)),
    );
    const mean = average(truth);
    const spread = average(truth.map((t) => (t - mean) ** 2));
    const wanted = average(truth.map((t) => Math.max(0, mean - t)));
    need += wanted / fields;
    level += mean / fields;
    for (const scale of Object.keys(maps) as Scale[]) {
      const estimate = maps[scale](samples, targets);
      const [error, meanBias, needBias] = totals.get(scale) ?? [0, 0, 0];
      totals.set(scale, [
        error + average(estimate.map((e, i) => (e - truth[i]!) ** 2)) / spread / fields,
        meanBias + (average(estimate) - mean) / fields,
        needBias + (average(estimate.map((e) => Math.max(0, mean - e))) - wanted) / fields,
      ]);
    }
  }
  return [...totals].map(([scale, [relativeError, meanBias, needBias]]) => ({
    scale,
    relativeError,
    meanBias: meanBias / level,
    needBias: needBias / need,
  }));
}

interface Targets {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

function asReported(samples: Samples, targets: Targets): Float64Array {
  return krige(samples, chooseModel(samples).model, targets, { block: SPOT }).estimate;
}

function pulledBack(samples: Samples, targets: Targets): Float64Array {
  const { model, modelValues } = chooseModel(samples);
  return krige({ ...samples, value: modelValues }, model, targets, { block: SPOT }).estimate;
}

/** Weights of the nodes from the logarithms, sills from the values. */
function logWeights(samples: Samples, targets: Targets): Float64Array {
  const { modelValues } = chooseModel(samples);
  const grid = likelihoodGrid(samples, rangesOver(boundingDiagonalM(samples)));
  const weight = nodeWeights(grid.profile(modelValues.map(Math.log))!.deviance);
  const { model } = averageNodes(grid, grid.profile(modelValues)!, weight);
  return krige(samples, model, targets, { block: SPOT }).estimate;
}

/** exp of the kriged logarithm, or that times exp((total variance - variance of the estimate) / 2), which is unbiased. */
function logMap(samples: Samples, targets: Targets, unbiased: boolean): Float64Array {
  const ln = { ...samples, value: samples.value.map(Math.log) };
  const { model } = chooseModel(ln);
  const { estimate, variance } = krige(ln, model, targets, { block: SPOT });
  if (!unbiased) return estimate.map(Math.exp);
  const system = ordinarySystem(ln, model);
  const { covariance, n, unit, unitSum } = system;
  const support = supportOf(covariance, SPOT);
  const fill = targetCovariances(covariance, support, system.u, system.v);
  const { u, v } = turned(covariance, targets.x, targets.y, system.originX, system.originY);
  const all = Int32Array.from({ length: n }, (_, i) => i);
  const c = new Float64Array(n);
  return estimate.map((e, t) => {
    fill(u[t]!, v[t]!, all, n, c, 0, 1);
    const slack = (1 - c.reduce((sum, ci, i) => sum + ci * unit[i]!, 0)) / unitSum;
    const ofEstimate = support.within - variance[t]! + 2 * slack;
    return Math.exp(e + (covariance.total - ofEstimate) / 2);
  });
}

function average(values: Float64Array): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
