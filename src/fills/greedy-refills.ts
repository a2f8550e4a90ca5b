import { planRefills, refillPlan, refillProgramme } from "./plan-refills.ts";
import type { NoRefillPlan, RefillInput, RefillPlan } from "./refill-types.ts";

/**
 * The habit: run to the last stop in reach, at the cheapest place there. As good as `planRefills` when all stops cost the
 * same, never better; shown beside it to say what planning saves.
 */
export function greedyRefills(input: RefillInput): RefillPlan | NoRefillPlan {
  const programme = refillProgramme(input);
  const { runningLb, firstLb, afterStopLb, minutes } = programme;
  const passes = runningLb[0]!.length - 1;
  const cheapest = (k: number): number =>
    minutes.reduce((best, list, place) => (list[k - 1]! < minutes[best]![k - 1]! ? place : best), 0);
  const allowed = (k: number): boolean => Number.isFinite(minutes[cheapest(k)]![k - 1]!);
  const afterPass: number[] = [];
  for (let from = 0; ; ) {
    const atHand = from === 0 ? firstLb : afterStopLb(from);
    const lasts = (to: number): boolean =>
      runningLb.every((lb, b) => lb[to]! - lb[from]! <= atHand[b]! + 1e-9);
    if (lasts(passes)) break;
    let stop = passes - 1;
    while (stop > from && !(lasts(stop) && allowed(stop))) stop--;
    if (stop === from) return planRefills({ ...input, mostMoves: 0 });
    afterPass.push(stop);
    from = stop;
  }
  return refillPlan(input, programme, { afterPass, place: afterPass.map(cheapest) });
}
