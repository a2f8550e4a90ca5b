import { planRefills } from "./plan-refills.ts";
import type { NoRefillPlan, RefillInput, RefillPlan } from "./refill-types.ts";

interface RefillCase {
  /** A side, a gate, a starting end: `start at the north end, tender at the east gate`. */
  readonly id: string;
  readonly input: RefillInput;
}

interface RefillChoice {
  readonly id: string;
  readonly plan: RefillPlan | NoRefillPlan;
}

/** Every case planned, best first: least minutes, then fewest stops, then the order given; cases without a plan last. */
export function chooseRefillPlan(cases: readonly RefillCase[]): RefillChoice[] {
  return cases
    .map(({ id, input }) => ({ id, plan: planRefills(input) }))
    .sort((a, b) => {
      if (!a.plan.feasible || !b.plan.feasible) return Number(b.plan.feasible) - Number(a.plan.feasible);
      const minutes = a.plan.minutes - b.plan.minutes;
      return Math.abs(minutes) > 1e-9 ? minutes : a.plan.stops.length - b.plan.stops.length;
    });
}
