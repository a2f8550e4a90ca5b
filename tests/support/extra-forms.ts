import { type Plan, type PlanController, type RunResult, run } from "../../src/plan/index.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "./small-farm.ts";

export const ALL_FORMS = ["taskdata-4", "taskdata-3", "kg-ha", "kml", "csv", "fallback"] as const;

const small = smallPlan();

/** The small farm's plan (invented, one field of about 20 ac with a hole) with every other form wanted, a rate a segment. */
export const planWithForms = (controller: PlanController = { zeroRate: "off" }): Plan => ({
  ...small,
  rig: { ...small.rig, segmentM: 30, rateStepLbPerAc: 5, rates: "segments" },
  // Cut alike, so that both products have a map for the spreader too.
  split: { ...small.split, within: "alike" },
  name: `Hazel & Sons <"low"> farm, a name of over 32 characters`,
  controller,
  extras: ALL_FORMS,
});

export const runWithForms = (controller?: PlanController): Promise<RunResult> =>
  run(planWithForms(controller), sourceOf(smallFarmFiles()));
