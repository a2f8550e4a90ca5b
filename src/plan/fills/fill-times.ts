import type { Notice } from "../../errors/index.ts";
import { type NoRefillPlan, type RefillPlan, type RefillTimes, refillTimes } from "../../fills/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import type { WorkedPass } from "./worked-passes.ts";

/**
 * When each stop comes and how long the rig waits. Compartments count where the plan has them, else a tender's pounds
 * together. A load no tender can bring leaves the times out, with a notice.
 */
export function fillTimes(
  plan: Plan,
  rig: RigFigures,
  made: RefillPlan | NoRefillPlan,
  passes: readonly WorkedPass[],
  workAcPerHour: number,
): { readonly times: RefillTimes | null; readonly notices: readonly Notice[] } {
  if (!made.feasible) return { times: null, notices: [] };
  const { tenders } = rig;
  const typed = plan.fills?.compartmentsLb;
  const compartments = typed?.length === rig.bins.length ? typed : null;
  const shaped: RefillPlan =
    compartments === null
      ? { ...made, stops: made.stops.map((stop) => ({ ...stop, loadLb: [sum(stop.loadLb)] })) }
      : made;
  const compartmentLb = compartments ?? (tenders === null ? [] : [tenders.lb]);
  const most = compartmentLb.map((_, b) => Math.max(0, ...shaped.stops.map((stop) => stop.loadLb[b]!)));
  if (tenders !== null && most.some((lb, b) => lb > compartmentLb[b]! + 1e-9)) {
    const inWords = (lb: readonly number[]): string => lb.map((one) => numberText(one, 0)).join(" and ");
    const message = `a tender brings ${inWords(compartmentLb)} lb and a stop takes up to ${inWords(most)} lb: these stops cannot be filled as they stand and no times are told; plan with a larger tender, or with smaller loads (fills.load, rig.carriesLb)`;
    return { times: null, notices: [{ code: "tender-below-load", message, where: "fills" }] };
  }
  const times = refillTimes({
    plan: shaped,
    passAc: passes.map((pass) => pass.areaAc),
    workAcPerHour,
    transferLbPerHour: rig.work.transferLbPerHour,
    tenders:
      tenders === null
        ? []
        : Array.from({ length: tenders.count }, (_, t) => ({
            id: tenders.count === 1 ? "tender" : `tender ${t + 1}`,
            compartmentLb,
            tripHours: tenders.tripHours,
          })),
  });
  const stops = times.stops.map((stop, s) => ({ ...stop, loadLb: made.stops[s]!.loadLb }));
  return { times: { ...times, stops }, notices: [] };
}
