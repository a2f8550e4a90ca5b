import {
  type NoRefillPlan,
  type RefillInput,
  type RefillPlan,
  type RefillStand,
  replanRefills,
} from "../../fills/index.ts";
import type { FillCase } from "./fill-cases.ts";
import type { FillHere } from "./fill-plan-types.ts";

/**
 * Plans from where the rig stands, least minutes first: which way the field is driven is settled by then, but from a stop on the tender
 * may stand elsewhere than was planned.
 */
export function plannedFrom(
  cases: readonly FillCase[],
  beginAt: "A" | "B",
  input: Omit<RefillInput, "places">,
  stand: RefillStand,
): { readonly id: string; readonly best: FillCase; readonly plan: RefillPlan | NoRefillPlan }[] {
  const minutes = (plan: RefillPlan | NoRefillPlan): number =>
    plan.feasible ? plan.minutes : Number.POSITIVE_INFINITY;
  return cases
    .filter((one) => one.beginAt === beginAt)
    .map((best) => ({
      id: best.begunId,
      best,
      plan: replanRefills({ ...input, places: best.places }, stand),
    }))
    .sort((a, b) => (minutes(a.plan) === minutes(b.plan) ? 0 : minutes(a.plan) - minutes(b.plan)));
}

/** Filling first where the rig stands, beside a plan that drives on before it fills. */
export function fillHere(
  { passes, places, beginAt, placeWords }: FillCase,
  input: Omit<RefillInput, "places">,
  stand: RefillStand,
  plan: RefillPlan | NoRefillPlan,
): FillHere | null {
  const done = stand.stoppedAfterPass;
  const first = plan.feasible ? plan.stops[0] : undefined;
  if (plan.feasible && (first === undefined || first.afterPass === done)) return null;
  const here = replanRefills({ ...input, places, fillsFirst: true }, stand);
  const end = done === 0 ? beginAt : passes[done - 1]!.endAt;
  // Bins that want no load here: filling is none.
  if (here.feasible && here.looks[0]?.afterPass === done) return null;
  if (!here.feasible || here.stops[0]?.afterPass !== done) {
    return { at: `${end} end`, minutes: null, stops: null };
  }
  return {
    at: placeWords(here.stops[0].placeId, end),
    minutes: here.minutes,
    stops: here.stops.length,
  };
}
