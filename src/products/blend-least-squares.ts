import { type BlendClass, checkClasses } from "./blend-classes.ts";

/** The ratio of least squares. */
export interface LeastSquaresBlend {
  readonly k2oPerP2o5: number;
  /** Weighted sum of squares, lb2/ac, along the blend and off it. */
  readonly along: number;
  readonly residual: number;
}

/**
 * The ratio whose line through the origin lies nearest to all needs, squares weighted by acres and by nutrient: the leading
 * direction of sum A D [P K]'[P K] D with D the roots of the weights. 0/0 needs give a ratio of NaN.
 */
export function blendLeastSquares(
  classes: readonly BlendClass[],
  weightP2o5 = 1,
  weightK2o = 1,
): LeastSquaresBlend {
  checkClasses(classes);
  let pp = 0;
  let pk = 0;
  let kk = 0;
  for (const { areaAc, p2o5LbPerAc, k2oLbPerAc } of classes) {
    pp += areaAc * weightP2o5 * p2o5LbPerAc ** 2;
    pk += areaAc * Math.sqrt(weightP2o5 * weightK2o) * p2o5LbPerAc * k2oLbPerAc;
    kk += areaAc * weightK2o * k2oLbPerAc ** 2;
  }
  const half = (pp - kk) / 2;
  const along = (pp + kk) / 2 + Math.hypot(half, pk);
  // Direction (pk, along - pp), or along an axis when the needs never meet in one class.
  const slope = pk > 0 ? (along - pp) / pk : kk > pp ? Number.POSITIVE_INFINITY : pp > 0 ? 0 : Number.NaN;
  return {
    k2oPerP2o5: slope * Math.sqrt(weightP2o5 / weightK2o),
    along,
    residual: Math.max(0, pp + kk - along),
  };
}
