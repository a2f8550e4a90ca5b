import { inverseDiagonal } from "./arithmetic.ts";
import { distanceWeight, inverseDistance } from "./inverse-distance.ts";
import { krige } from "./krige.ts";
import { ordinarySystem } from "./ordinary-system.ts";
import { checkSamples } from "./same-place.ts";
import type { Arithmetic, InverseDistanceOptions, Kriged, Samples, VariogramModel } from "./types.ts";

/**
 * Leave-one-out ordinary kriging, in sample order, with the model kept fixed, without solving n systems: with P the upper left part
 * of the inverse of the bordered matrix, residual = (P value)_i / P_ii and variance = 1 / P_ii
 * (Dubrule 1983, Mathematical Geology 15:687-699, from memory). A lone sample gets NaN.
 * With `nearest` each sample is predicted from that many others, one small system each.
 */
export function leaveOneOut(
  samples: Samples,
  model: VariogramModel,
  options: { readonly nearest?: number; readonly arithmetic?: Arithmetic } = {},
): Kriged {
  const n = samples.value.length;
  if (options.nearest !== undefined && options.nearest < n - 1)
    return nearestOnly(samples, model, options.nearest);
  const { arithmetic = "fastest" } = options;
  const { factor, unit, unitSum, dual, constant } = ordinarySystem(samples, model, arithmetic);
  const estimate = new Float64Array(n).fill(Number.NaN);
  const variance = new Float64Array(n).fill(Number.NaN);
  if (n === 1) return { estimate, variance };
  const inverse = inverseDiagonal(factor, n, arithmetic);
  for (let i = 0; i < n; i++) {
    const diagonal = inverse[i]! - unit[i]! ** 2 / unitSum;
    // P value equals C^-1 (value - mean): the mean is what the border takes out.
    estimate[i] = samples.value[i]! - dual[i]! / diagonal;
    variance[i] = constant ? 0 : 1 / diagonal;
  }
  return { estimate, variance };
}

function nearestOnly(samples: Samples, model: VariogramModel, nearest: number): Kriged {
  const estimate = new Float64Array(samples.value.length);
  const variance = new Float64Array(samples.value.length);
  for (let i = 0; i < estimate.length; i++) {
    const target = { x: samples.x.slice(i, i + 1), y: samples.y.slice(i, i + 1) };
    const kriged = krige(without(samples, i), model, target, { nearest });
    estimate[i] = kriged.estimate[0]!;
    variance[i] = kriged.variance[0]!;
  }
  return { estimate, variance };
}

/** Leave-one-out of `inverseDistance`, in sample order. A lone sample gets NaN. */
export function leaveOneOutInverseDistance(
  samples: Samples,
  options: InverseDistanceOptions = {},
): Float64Array<ArrayBuffer> {
  checkSamples(samples);
  const n = samples.value.length;
  if (n === 1) return new Float64Array(1).fill(Number.NaN);
  if (options.nearest === undefined && options.block === undefined) return fromAllOthers(samples, options);
  return Float64Array.from({ length: n }, (_, i) => {
    const target = { x: samples.x.slice(i, i + 1), y: samples.y.slice(i, i + 1) };
    return inverseDistance(without(samples, i), target, options)[0]!;
  });
}

/** Each from all the others, by the operations of `inverseDistance` in their order, without copies of the samples. */
function fromAllOthers(
  { x, y, value }: Samples,
  { power = 2 }: InverseDistanceOptions,
): Float64Array<ArrayBuffer> {
  const weigh = distanceWeight(power);
  const out = new Float64Array(value.length);
  for (let i = 0; i < out.length; i++) {
    let total = 0;
    let weights = 0;
    for (let j = 0; j < out.length; j++) {
      if (j === i) continue;
      const d2 = (x[j]! - x[i]!) ** 2 + (y[j]! - y[i]!) ** 2;
      if (d2 === 0) {
        [total, weights] = [value[j]!, 1];
        break;
      }
      const weight = weigh(d2);
      total += weight * value[j]!;
      weights += weight;
    }
    out[i] = total / weights;
  }
  return out;
}

/** Mean of the other values, in sample order. A lone sample gets NaN. */
export function leaveOneOutMean(samples: Samples): Float64Array<ArrayBuffer> {
  const { value } = samples;
  return Float64Array.from(value, (_, i) => {
    let total = 0;
    for (let j = 0; j < value.length; j++) if (j !== i) total += value[j]!;
    return value.length === 1 ? Number.NaN : total / (value.length - 1);
  });
}

function without({ x, y, value }: Samples, left: number): Samples {
  const keep = (array: Float64Array): Float64Array => array.filter((_, i) => i !== left);
  return { x: keep(x), y: keep(y), value: keep(value) };
}
