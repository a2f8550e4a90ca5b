import { InputError } from "../errors/index.ts";
import { type BlendClass, type BlendWeights, checkClasses } from "./blend-classes.ts";
import type { Grade } from "./product.ts";

/** The ratio that costs least when each class has its own rate. */
export interface RatedBlend {
  /** Share of the first product by weight. */
  readonly firstShare: number;
  readonly cost: number;
}

/**
 * The shares of two products when the total rate of every class is given: least weighted misfit of P and K. The cost is convex
 * and piecewise linear in the share; the slope is followed to where it turns. lb/ac of blend in the order of the classes.
 * Throws `number-not-usable`, `rates-do-not-match`.
 */
export function blendForRates(
  classes: readonly BlendClass[],
  totalLbPerAc: readonly number[],
  products: readonly [Pick<Grade, "p2o5" | "k2o">, Pick<Grade, "p2o5" | "k2o">],
  weights: BlendWeights,
): RatedBlend {
  checkClasses(classes);
  if (classes.length !== totalLbPerAc.length) {
    throw new InputError(
      "rates-do-not-match",
      `${totalLbPerAc.length} rates for ${classes.length} classes`,
      "Give one total rate a class.",
    );
  }
  // Each term: over x max(0, h) + under x max(0, -h) with h = at0 + slope x share.
  const terms = classes.flatMap((one, i) =>
    (["p2o5", "k2o"] as const).map((oxide) => {
      const [first, second] = products.map((grade) => (grade[oxide] / 100) * totalLbPerAc[i]!) as [
        number,
        number,
      ];
      const need = oxide === "p2o5" ? one.p2o5LbPerAc : one.k2oLbPerAc;
      const [over, under] =
        oxide === "p2o5" ? [weights.overP2o5, weights.underP2o5] : [weights.overK2o, weights.underK2o];
      return {
        at0: second - need,
        slope: first - second,
        over: over * one.areaAc,
        under: under * one.areaAc,
      };
    }),
  );
  const cost = (share: number): number =>
    terms.reduce((total, { at0, slope, over, under }) => {
      const off = at0 + slope * share;
      return total + (off > 0 ? off * over : -off * under);
    }, 0);
  const turns = terms
    .filter(({ slope }) => slope !== 0)
    .map(({ at0, slope, over, under }) => ({ at: -at0 / slope, more: (over + under) * Math.abs(slope) }))
    .filter(({ at }) => at > 0 && at < 1)
    .sort((a, b) => a.at - b.at);
  let slope = terms.reduce((total, { at0, slope: s, over, under }) => {
    const rises = at0 > 0 || (at0 === 0 && s > 0);
    return total + s * (rises ? over : -under);
  }, 0);
  let share = 0;
  for (const turn of turns) {
    if (slope >= 0) break;
    share = turn.at;
    slope += turn.more;
  }
  if (slope < 0) share = 1;
  return { firstShare: share, cost: cost(share) };
}
