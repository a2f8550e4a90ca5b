import { logDeterminant } from "../numeric/index.ts";
import { ordinarySystem } from "./ordinary-system.ts";
import type { Samples, VariogramModel } from "./types.ts";

/** -2 ln of the restricted likelihood, and of the likelihood at the generalised-least-squares mean. */
interface Deviance {
  readonly restricted: number;
  readonly full: number;
}

/**
 * (n - 1) ln 2 pi + ln det C + ln(1' C^-1 1) + r' C^-1 r for a Gaussian field of unknown constant mean;
 * the full one drops the third term and counts n. Errors as `krige`.
 */
export function deviance(samples: Samples, model: VariogramModel): Deviance {
  const { n, factor, unitSum, dual, mean } = ordinarySystem(samples, model);
  let square = 0;
  for (let i = 0; i < n; i++) square += (samples.value[i]! - mean) * dual[i]!;
  const shared = logDeterminant(factor, n) + square;
  const perSample = Math.log(2 * Math.PI);
  return { restricted: (n - 1) * perSample + shared + Math.log(unitSum), full: n * perSample + shared };
}
