import { requireNumber } from "../capacity/index.ts";
import { cannotFinish, planRefills } from "./plan-refills.ts";
import type { NoRefillPlan, RefillInput, RefillPlan } from "./refill-types.ts";

export interface RefillStand {
  /** Passes that are done. */
  readonly stoppedAfterPass: number;
  /** Usable lb that the scale shows in each bin; more than a bin can hold counts as what it holds. */
  readonly binLb: readonly number[];
  /** True / logged pounds of a meter check; the passes to come then take so much more. 1 when left out. */
  readonly meterFactor?: number;
}

/**
 * The plan from where the rig stands, by the scale. A stop right here is among the choices. Passes keep their numbers.
 * Throws `number-not-usable`.
 */
export function replanRefills(input: RefillInput, stand: RefillStand): RefillPlan | NoRefillPlan {
  const { stoppedAfterPass: done, binLb, meterFactor = 1 } = stand;
  requireNumber("passes done", done, { atLeast: 0, atMost: input.passLb.length - 1 });
  requireNumber("meterFactor", meterFactor, { above: 0 });
  // A pass of no pounds in front makes the stop right here an ordinary one; -1 turns numbers back.
  const nothing = input.usableLoadLb.map(() => 0);
  const rest = input.passLb.slice(done).map((pass) => pass.map((lb) => lb * meterFactor));
  const plan = planRefills({
    ...input,
    passLb: [nothing, ...rest],
    firstLoadLb: binLb.map((lb, b) => requireNumber(`binLb[${b}]`, lb)),
    places: input.places.map(({ id, stopMinutes }) => ({
      id,
      stopMinutes: [done === 0 ? 0 : (stopMinutes[done - 1] ?? null), ...stopMinutes.slice(done)],
    })),
  });
  const shift = done - 1;
  const shifted = <T extends { readonly afterPass: number; readonly enoughTo: number }>(one: T): T => ({
    ...one,
    afterPass: one.afterPass + shift,
    enoughTo: one.enoughTo + shift,
  });
  if (!plan.feasible) {
    const pass = plan.pass + shift;
    return { ...plan, pass, message: cannotFinish(String(plan.bin + 1), String(pass), plan) };
  }
  return {
    ...plan,
    stops: plan.stops.map(shifted),
    looks: plan.looks.map(shifted),
    legs: plan.legs.map(({ from, to, lb }) => ({ from: Math.max(done, from + shift), to: to + shift, lb })),
  };
}
