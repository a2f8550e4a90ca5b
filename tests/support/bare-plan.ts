import type { Plan } from "../../src/plan/index.ts";

/** The plan as it is before anybody tells of rig, tender, seed, prices and season. */
export function barePlan(plan: Plan): Plan {
  const {
    tender: _,
    seed: __,
    season: ___,
    order: ____,
    pricesUsdPerTon: _____,
    fills: ______,
    ...rest
  } = plan;
  const { rows, rowSpacingIn, segmentM, rateStepLbPerAc, bins } = plan.rig;
  return {
    ...rest,
    rig: {
      rows,
      rowSpacingIn,
      bins: bins.map(({ id, product }) => ({ id, product })),
      segmentM,
      rateStepLbPerAc,
    },
  };
}
