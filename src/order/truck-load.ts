import { requireNumber } from "../capacity/index.ts";
import { LB_PER_TON } from "../units/index.ts";

/** Interstate limits, lb, as quoted on public pages of the federal bridge law (second-hand); states and thaw limits differ. */
export const federalLimitsLb: {
  readonly singleAxle: number;
  readonly tandem: number;
  readonly gross: number;
} = {
  singleAxle: 20_000,
  tandem: 34_000,
  gross: 80_000,
};

/**
 * lb on a group of axles by the bridge formula, 500 (L N / (N - 1) + 12 N + 36) to the nearest 500; L ft between the outer
 * axles of N. From memory (23 U.S.C. 127); the gross limit applies on top of it.
 */
export function bridgeLimitLb(outerAxlesFt: number, axles: number): number {
  requireNumber("outerAxlesFt", outerAxlesFt, { above: 0 });
  requireNumber("axles", axles, { atLeast: 2 });
  return Math.round((outerAxlesFt * axles) / (axles - 1) + 12 * axles + 36) * 500;
}

/** Short tons of product on a truck. */
export const truckLoadTons = (grossLimitLb: number, emptyLb: number): number =>
  requireNumber("grossLimitLb - emptyLb", grossLimitLb - emptyLb, { above: 0 }) / LB_PER_TON;
