import type { Estimator } from "./batch.ts";
import { javascriptEstimator } from "./javascript-estimator.ts";
import type { OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";
import type { Arithmetic } from "./types.ts";
import { webAssemblyEstimator } from "./web-assembly-estimator.ts";

/**
 * Starts with all samples in use. Without `withVariance` the inverse is never made and `variance` stays 0.
 * The result of a target depends neither on its neighbours in a batch nor on the arithmetic.
 */
export function estimator(
  system: OrdinarySystem,
  support: Support,
  withVariance: boolean,
  arithmetic: Arithmetic,
): Estimator {
  const fast = arithmetic === "fastest" ? webAssemblyEstimator(system, support, withVariance) : undefined;
  return fast ?? javascriptEstimator(system, support, withVariance);
}
