import { calibrationFactor } from "./choose-model.ts";
import { leaveOneOut, leaveOneOutInverseDistance, leaveOneOutMean } from "./leave-one-out.ts";
import { median } from "./median.ts";
import type { Kriged, Samples, VariogramModel } from "./types.ts";

type MappingMethod =
  | "kriging"
  | "inverse distance 1"
  | "inverse distance 2"
  | "inverse distance 3"
  | "mean of the others";

/** Errors of predicting each sample from the others, in the test's own unit; residual = observed - predicted. */
interface MethodErrors {
  readonly method: MappingMethod;
  readonly rootMeanSquare: number;
  readonly meanError: number;
}

export interface LeaveOneOutTable {
  /** Kriging first. */
  readonly methods: readonly MethodErrors[];
  /** Kriging's predictions and variances, in sample order. */
  readonly kriging: Kriged;
  /** Mean of residual^2 / variance: 1 when the variances are right on the whole. */
  readonly meanSquaredRatio: number;
  /** Its median: 0.455 for a Gaussian field. */
  readonly medianSquaredRatio: number;
  /** The mean within 1 +- 3 sqrt(2 / n) and the median within 0.2 to 0.9; also when nothing was off at all. */
  readonly calibrated: boolean;
  /** median / 0.455, kept in 0.3 to 1; may scale intervals that are shown, if the page says so. */
  readonly calibrationFactor: number;
  /** Set when another method's error is so much smaller that chance does not explain it. */
  readonly proposed: MappingMethod | undefined;
}

/** Values as reported, the model kept fixed. Needs two samples. */
export function leaveOneOutTable(samples: Samples, model: VariogramModel): LeaveOneOutTable {
  const observed = samples.value;
  const n = observed.length;
  if (n < 2) throw new Error("leaveOneOutTable: fewer than two samples");
  const kriging = leaveOneOut(samples, model);
  const predictions: [MappingMethod, Float64Array][] = [
    ["kriging", kriging.estimate],
    ["inverse distance 1", leaveOneOutInverseDistance(samples, { power: 1 })],
    ["inverse distance 2", leaveOneOutInverseDistance(samples, { power: 2 })],
    ["inverse distance 3", leaveOneOutInverseDistance(samples, { power: 3 })],
    ["mean of the others", leaveOneOutMean(samples)],
  ];
  const methods = predictions.map(([method, predicted]): MethodErrors => {
    let total = 0;
    let square = 0;
    for (let i = 0; i < n; i++) {
      const residual = observed[i]! - predicted[i]!;
      total += residual;
      square += residual * residual;
    }
    return { method, rootMeanSquare: Math.sqrt(square / n), meanError: total / n };
  });
  // A sample predicted exactly by a model without variance is as expected.
  const ratios = observed.map((value, i) => {
    const square = (value - kriging.estimate[i]!) ** 2;
    return square === 0 ? 0 : square / kriging.variance[i]!;
  });
  const meanSquaredRatio = ratios.reduce((a, b) => a + b, 0) / n;
  const medianSquaredRatio = median(ratios);
  return {
    methods,
    kriging,
    meanSquaredRatio,
    medianSquaredRatio,
    calibrated:
      ratios.every((ratio) => ratio === 0) ||
      (Math.abs(meanSquaredRatio - 1) <= 3 * Math.sqrt(2 / n) &&
        medianSquaredRatio >= 0.2 &&
        medianSquaredRatio <= 0.9),
    calibrationFactor: calibrationFactor(observed, kriging.estimate, kriging.variance),
    proposed: proposedMethod(methods, n),
  };
}

function proposedMethod([kriging, ...others]: readonly MethodErrors[], n: number): MappingMethod | undefined {
  if (n < 15) return undefined;
  const best = others.reduce((a, b) => (b.rootMeanSquare < a.rootMeanSquare ? b : a));
  const share = n >= 30 ? 0.93 : 0.85;
  return best.rootMeanSquare < share * kriging!.rootMeanSquare ? best.method : undefined;
}
