import type { PlanGuideCheck } from "./document-need-types.ts";
import type { Plan, PlanNeed, PlanOwnGuide } from "./document-types.ts";

/** What the need of every field takes from the plan as a whole. */
export interface PlanNeedSlice {
  readonly seasonYear: number;
  readonly need: PlanNeed;
  readonly ownGuides: readonly PlanOwnGuide[];
  readonly guides: readonly PlanGuideCheck[];
  /** Only the figure that drives the rates: what a hand on a slider waits for. */
  readonly onlyDriving: boolean;
}

export const needSlice = (plan: Plan, onlyDriving: boolean): PlanNeedSlice => ({
  onlyDriving,
  seasonYear: plan.seasonYear,
  need: plan.need ?? { drivenBy: "mapped-test" },
  ownGuides: plan.ownGuides ?? [],
  guides: plan.guides ?? [],
});
