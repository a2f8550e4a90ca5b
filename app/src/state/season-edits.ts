import type { OrderEntry, Plan, PlanOrder, PlanOrderTerms, PlanSeason } from "#core";
import type { Change } from "./plan-edits.ts";
import { said } from "./said.ts";

export function withSeason(plan: Plan, name: string, some: Partial<PlanSeason>): Change {
  const before = plan.season ?? { start: `${plan.seasonYear}-04-10` };
  return { name, plan: { ...plan, season: { ...before, ...some } } };
}

/** Days a week alike from the start on. */
export function withDaysPerWeek(plan: Plan, daysPerWeek: number): Change {
  const start = plan.season?.start ?? `${plan.seasonYear}-04-10`;
  const workableDays = [{ from: start, to: start, daysPerWeek }];
  return withSeason(plan, `workable days a week → ${said(daysPerWeek)}`, { workableDays });
}

export function withPlanter(plan: Plan, acPerDay: number, startsOn: string): Change {
  const [first, ...more] = plan.season?.planters ?? [];
  const planter = { ...(first ?? { id: "planter" }), acPerDay, startsOn };
  return withSeason(plan, `planter ${said(acPerDay)} ac a day from ${startsOn}`, {
    planters: [planter, ...more],
  });
}

/** Terms of the first supplier of a product; those of others stay. */
export function withTerms(plan: Plan, product: string, some: Partial<PlanOrderTerms>, name: string): Change {
  const terms = plan.order?.terms ?? [];
  const at = terms.findIndex((one) => one.product === product);
  if (at < 0) return withOrder(plan, { terms: [...terms, { product, supplier: "supplier", ...some }] }, name);
  return withOrder(plan, { terms: terms.map((one, k) => (k === at ? { ...one, ...some } : one)) }, name);
}

/** One more line of the record; none is taken out. */
export function withBooking(plan: Plan, entry: OrderEntry): Change {
  const book = [...(plan.order?.book ?? []), entry];
  return withOrder(plan, { book }, `${entry.kind} ${said(entry.tons)} tons of ${entry.product}`);
}

const withOrder = (plan: Plan, some: Partial<PlanOrder>, name: string): Change => ({
  name,
  plan: { ...plan, order: { ...plan.order, ...some } },
});
