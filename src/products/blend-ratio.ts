import { bestRatio, type RatioCost, sortByRatio } from "./blend-best-ratio.ts";
import {
  type BlendClass,
  type BlendedClass,
  type BlendWeights,
  blendClass,
  checkClasses,
  requireBlendNumber,
} from "./blend-classes.ts";

/** One ratio over all classes. */
export interface BlendFit {
  /** lb K2O per lb P2O5; 0 for a blend without K, Infinity for one without P. */
  readonly k2oPerP2o5: number;
  /** $ of what is too much and too little. */
  readonly cost: number;
  /** Whether the optimum lies between the ratios that classes want or on one of them. */
  readonly kind: "interior" | "breakpoint";
  /** Classes in the order given: the maps of what the blend places, over- and under-applies, with their worth. */
  readonly classes: readonly BlendedClass[];
}

/** What `blendRatio` takes. */
export interface CoverInput {
  readonly classes: readonly BlendClass[];
  readonly p2o5PricePerLb: number;
  readonly k2oPricePerLb: number;
}

/**
 * The one ratio for a bin that covers P and K everywhere with the least worth of excess. Exact, O(n log n).
 * Throws `number-not-usable`.
 */
export function blendRatio(input: CoverInput): BlendFit {
  return fitBlend(input.classes, coverWeights(input));
}

/** Weights by which both needs are covered: nothing may be short, what is too much costs its price. */
export const coverWeights = ({
  p2o5PricePerLb,
  k2oPricePerLb,
}: Omit<CoverInput, "classes">): BlendWeights => ({
  overP2o5: requireBlendNumber("p2o5PricePerLb", p2o5PricePerLb, true),
  overK2o: requireBlendNumber("k2oPricePerLb", k2oPricePerLb, true),
  underP2o5: Number.POSITIVE_INFINITY,
  underK2o: Number.POSITIVE_INFINITY,
});

/**
 * The one ratio with the least weighted misfit, too much and too little each with its own weight, $/lb. Every piece
 * between breakpoints is tried, since the sum is not convex. Throws `number-not-usable`.
 */
export function blendMisfit(classes: readonly BlendClass[], weights: BlendWeights): BlendFit {
  return fitBlend(classes, checkWeights(weights));
}

export function checkWeights(weights: BlendWeights): BlendWeights {
  for (const [name, value] of Object.entries(weights)) requireBlendNumber(name, value, true);
  return weights;
}

function fitBlend(classes: readonly BlendClass[], weights: BlendWeights): BlendFit {
  checkClasses(classes);
  const sorted = sortByRatio(classes);
  const best: RatioCost =
    sorted.classes.length === 0
      ? { theta: 0, cost: 0 }
      : bestRatio(sorted, weights, 0, sorted.classes.length);
  const blended = classes.map((one) => blendClass(one, best.theta, weights));
  return {
    k2oPerP2o5: best.theta,
    cost: blended.reduce((total, one) => total + one.cost, 0),
    kind: sorted.ratio.includes(best.theta) ? "breakpoint" : "interior",
    classes: blended,
  };
}

/** The cost of any ratio, for the curve on the page and for checks. */
export function blendCostAt(
  classes: readonly BlendClass[],
  weights: BlendWeights,
  k2oPerP2o5: number,
): number {
  return classes.reduce((total, one) => total + blendClass(one, k2oPerP2o5, weights).cost, 0);
}
