import { type AveragedModel, averager, isConstant, patternlessModel } from "./averaged-model.ts";
import { leaveOneOut } from "./leave-one-out.ts";
import { median } from "./median.ts";
import { pooledModels } from "./pooled-models.ts";
import type { Anisotropy, Samples, VariogramModel } from "./types.ts";

/** Fewer samples than this make no map: the field gets their mean. */
export const LEAST_SAMPLES = 5;
/** Standardised leave-one-out residuals are pulled back to this. */
const PULL_TO = 2.5;
/** Beyond this at its turn a sample is worth a look by the user. */
const CHECK_BEYOND = 3.5;
const MOST_PULLED = 0.05;
/** Median of a chi-square of one degree of freedom: what median(r^2 / v) is for a Gaussian field. */
const CHI_SQUARE_MEDIAN = 0.455;

/** One value pulled back while the model was made. The map still uses the value as reported. */
export interface Correction {
  /** Position in the samples. */
  readonly index: number;
  readonly reported: number;
  readonly usedForModel: number;
  /** Leave-one-out residual over its calibrated standard deviation, at its turn; above 0 = higher than its neighbours say. */
  readonly standardised: number;
  /** Beyond 3.5: check this sample. */
  readonly check: boolean;
}

export interface ChosenModel {
  /** "mean": fewer than five samples, pure nugget. "typed": the user's own. */
  readonly source: "averaged" | "pooled" | "typed" | "mean";
  readonly model: VariogramModel;
  readonly averaged: AveragedModel | undefined;
  /** In the order they were made, worst first. */
  readonly corrections: readonly Correction[];
  /** The values the model was made from. */
  readonly modelValues: Float64Array;
}

export interface ChooseModelOptions {
  /** A variogram typed by the user; it is kept as it is. */
  readonly model?: VariogramModel;
  /** For an averaged model; a typed model brings its own. */
  readonly anisotropy?: Anisotropy;
}

/** The averaged model of one field, outliers pulled back one at a time. Throws as `averagedModel` and `krige`. */
export function chooseModel(samples: Samples, options: ChooseModelOptions = {}): ChosenModel {
  const { model: typed, anisotropy } = options;
  if (typed !== undefined) {
    const { corrections, values } = pullOutliers(samples, () => typed);
    return { source: "typed", model: typed, averaged: undefined, corrections, modelValues: values };
  }
  if (samples.value.length < LEAST_SAMPLES) return meanModel(samples);
  if (isConstant(samples)) {
    const averaged = patternlessModel(samples.value);
    return {
      source: "averaged",
      model: averaged.model,
      averaged,
      corrections: [],
      modelValues: samples.value,
    };
  }
  const average = averager(samples, anisotropy);
  const { corrections, values } = pullOutliers(samples, (current) => average(current).model);
  const averaged = average(values);
  return { source: "averaged", model: averaged.model, averaged, corrections, modelValues: values };
}

/** `chooseModel` for several fields of one test and year: outliers field by field, then the likelihoods pooled. */
export function choosePooledModels(fields: readonly Samples[], anisotropy?: Anisotropy): ChosenModel[] {
  const options = anisotropy === undefined ? {} : { anisotropy };
  const own = fields.map((field) => chooseModel(field, options));
  const mapped = fields.flatMap((field, i) =>
    own[i]!.source === "mean" ? [] : [{ field, choice: own[i]! }],
  );
  const pooled = pooledModels(
    mapped.map(({ field, choice }) => ({ ...field, value: choice.modelValues })),
    anisotropy,
  );
  return own.map((choice) => {
    const averaged = pooled[mapped.findIndex((m) => m.choice === choice)];
    if (averaged === undefined || averaged.fields === 1) return choice;
    return { ...choice, source: "pooled", model: averaged.model, averaged };
  });
}

function meanModel(samples: Samples): ChosenModel {
  const { value } = samples;
  return {
    source: "mean",
    model: patternlessModel(value).model,
    averaged: undefined,
    corrections: [],
    modelValues: value,
  };
}

/**
 * While the largest standardised leave-one-out residual exceeds 2.5, that one value is pulled back to 2.5 and
 * everything is computed anew, at most 5 % of the samples and at least one. One at a time, because beside one true
 * outlier an ordinary neighbour looks like one.
 */
function pullOutliers(
  samples: Samples,
  modelOf: (values: Float64Array) => VariogramModel,
): { corrections: Correction[]; values: Float64Array } {
  const n = samples.value.length;
  const values = samples.value.slice();
  const corrections: Correction[] = [];
  const pulled = new Set<number>();
  const most = Math.max(1, Math.floor(MOST_PULLED * n));
  while (n >= LEAST_SAMPLES && pulled.size < most) {
    const { estimate, variance } = leaveOneOut({ ...samples, value: values }, modelOf(values));
    const factor = calibrationFactor(values, estimate, variance);
    let worst = -1;
    let worstResidual = PULL_TO;
    for (let i = 0; i < n; i++) {
      const residual = Math.abs(values[i]! - estimate[i]!) / Math.sqrt(variance[i]! * factor);
      if (residual > worstResidual && !pulled.has(i)) {
        worst = i;
        worstResidual = residual;
      }
    }
    if (worst < 0) break;
    const sign = Math.sign(values[worst]! - estimate[worst]!);
    values[worst] = estimate[worst]! + sign * PULL_TO * Math.sqrt(variance[worst]! * factor);
    pulled.add(worst);
    corrections.push({
      index: worst,
      reported: samples.value[worst]!,
      usedForModel: values[worst]!,
      standardised: sign * worstResidual,
      check: worstResidual > CHECK_BEYOND,
    });
  }
  return { corrections, values };
}

/** median(r^2 / v) over its Gaussian value, kept in 0.3 to 1: below 1 where a few residuals carry the variance. */
export function calibrationFactor(
  observed: Float64Array,
  estimate: Float64Array,
  variance: Float64Array,
): number {
  const ratio = median(observed.map((value, i) => (value - estimate[i]!) ** 2 / variance[i]!));
  return Number.isFinite(ratio) ? Math.min(1, Math.max(0.3, ratio / CHI_SQUARE_MEDIAN)) : 1;
}
