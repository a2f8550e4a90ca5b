import {
  firstWorkedDay,
  NO_SUPPLIER,
  type OrderEntry,
  type Plan,
  type PlanOrder,
  type PlanOrderTerms,
  type PlanSeason,
} from "#core";
import type { Change } from "./plan-edits.ts";
import { said } from "./said.ts";

export function withSeason(plan: Plan, name: string, some: Partial<PlanSeason>): Change {
  const before = plan.season ?? { start: firstWorkedDay(plan.seasonYear) };
  return { name, plan: { ...plan, season: { ...before, ...some } } };
}

/** Days a week of one of the plan's stretches of days; alike from the start on where it has none or that one alone. */
export function withDaysPerWeek(plan: Plan, daysPerWeek: number, at = 0): Change {
  const had = plan.season?.workableDays ?? [];
  const start = plan.season?.start ?? firstWorkedDay(plan.seasonYear);
  const one = had[at];
  if (had.length < 2 || one === undefined) {
    const workableDays = [{ from: start, to: start, daysPerWeek }];
    return withSeason(plan, `workable days a week → ${said(daysPerWeek)}`, { workableDays });
  }
  const name = `workable days a week from ${one.from} → ${said(daysPerWeek)}`;
  return withSeason(plan, name, { workableDays: had.with(at, { ...one, daysPerWeek }) });
}

/** One of the plan's planters, or its first; the others stay. */
export function withPlanter(plan: Plan, acPerDay: number, startsOn: string, at = 0): Change {
  const had = plan.season?.planters ?? [];
  const planter = { ...(had[at] ?? { id: "planter" }), acPerDay, startsOn };
  return withSeason(plan, `${planter.id} ${said(acPerDay)} ac a day from ${startsOn}`, {
    planters: had.map((one, k) => (k === at ? planter : one)).concat(at < had.length ? [] : [planter]),
  });
}

/** Terms of the first supplier of a product; those of others stay. */
export function withTerms(plan: Plan, product: string, some: Partial<PlanOrderTerms>, name: string): Change {
  const terms = plan.order?.terms ?? [];
  const at = terms.findIndex((one) => one.product === product);
  if (at < 0)
    return withOrder(plan, { terms: [...terms, { product, supplier: NO_SUPPLIER, ...some }] }, name);
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
