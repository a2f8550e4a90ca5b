import type { SeasonOfPlan } from "../plan/index.ts";

type PlanterRow = SeasonOfPlan["planters"][number];

/** Whether the strips keep ahead of a planter by area (fields it waits at are a notice of their own), and where they first do not, by the planter's own workable days. */
export function aheadInWords({
  chase,
  workableDaysBefore,
}: Pick<PlanterRow, "chase" | "workableDaysBefore">): string {
  const { firstShortDay } = chase;
  if (firstShortDay === null) return "by area the strips keep ahead";
  return firstShortDay <= workableDaysBefore
    ? "by area the strips are not far enough ahead when it begins"
    : `by area the strips are short at the end of its workable day ${firstShortDay - workableDaysBefore}`;
}
