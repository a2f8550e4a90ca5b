import type { Plan, PlanBin, PlanRigWork, PlanTender } from "#core";
import { type Patch, patched } from "./patched.ts";
import type { Change } from "./plan-edits.ts";

export function withRigWork(plan: Plan, patch: Patch<PlanRigWork>, name: string): Change {
  const work = patched(plan.rig.work ?? ({} as PlanRigWork), patch);
  if (work.mph === undefined) {
    const { work: _, ...rig } = plan.rig;
    return { name, plan: { ...plan, rig } };
  }
  return { name, plan: { ...plan, rig: { ...plan.rig, work } } };
}

export const withBin = (plan: Plan, id: string, patch: Patch<PlanBin>, name: string): Change => ({
  name,
  plan: {
    ...plan,
    rig: { ...plan.rig, bins: plan.rig.bins.map((bin) => (bin.id === id ? patched(bin, patch) : bin)) },
  },
});

/** What a tender brings until somebody types it, lb: assumed, ours. */
export const FIRST_TENDER_LB = 24_000;

/** The tenders; null: product is always at hand. */
export function withTender(plan: Plan, patch: Patch<PlanTender> | null, name: string): Change {
  const { tender, ...rest } = plan;
  if (patch === null) return { name, plan: rest };
  const next = patched(tender ?? { count: 1, lb: FIRST_TENDER_LB }, patch);
  return { name, plan: { ...rest, tender: next } };
}
