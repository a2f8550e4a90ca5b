import {
  numberText,
  type Plan,
  type PlanOrder,
  type PlanOrderEntry,
  type PlanOrderTerms,
  type PlanSeason,
} from "#core";
import type { Change } from "./plan-edits.ts";

const figure = (value: number | undefined): string =>
  value === undefined ? "none" : numberText(value, Number.isInteger(value) ? 0 : 1);

export function withBinVolume(plan: Plan, bin: number, volumeFt3: number): Change {
  const bins = plan.rig.bins.map((one, b) => (b === bin ? { ...one, volumeFt3 } : one));
  const { id, volumeFt3: before } = plan.rig.bins[bin]!;
  return {
    name: `bin ${id} volume ${figure(before)} → ${figure(volumeFt3)} ft3`,
    plan: { ...plan, rig: { ...plan.rig, bins } },
  };
}

export function withDensity(plan: Plan, bin: number, lbPerFt3: number): Change {
  const bins = plan.rig.bins.map((one, b) => (b === bin ? { ...one, lbPerFt3 } : one));
  const { id, lbPerFt3: before } = plan.rig.bins[bin]!;
  return {
    name: `bin ${id} density ${figure(before)} → ${figure(lbPerFt3)} lb/ft3`,
    plan: { ...plan, rig: { ...plan.rig, bins } },
  };
}

type WorkKey = "mph" | "hoursPerDay" | "minutesPerStop" | "fillLbPerMin";
const workWords: Readonly<Record<WorkKey, string>> = {
  mph: "working speed, mph",
  hoursPerDay: "hours a day",
  minutesPerStop: "minutes a stop",
  fillLbPerMin: "filling, lb a minute",
};

/** Speed comes first: without it the plan has no work. */
export function withWork(plan: Plan, key: WorkKey, value: number): Change {
  const before = plan.rig.work;
  const work = { mph: before?.mph ?? 6, ...before, [key]: value };
  return {
    name: `${workWords[key]} ${figure(before?.[key])} → ${figure(value)}`,
    plan: { ...plan, rig: { ...plan.rig, work } },
  };
}

export function withTender(plan: Plan, key: "count" | "lb" | "tripMin", value: number): Change {
  const { tender } = plan;
  const words = { count: "tenders", lb: "a tender brings, lb", tripMin: "a tender's trip, min" }[key];
  return {
    name: `${words} ${figure(tender?.[key])} → ${figure(value)}`,
    plan: { ...plan, tender: { count: 1, lb: 24_000, ...tender, [key]: value } },
  };
}

export function withSeason(plan: Plan, name: string, some: Partial<PlanSeason>): Change {
  const before = plan.season ?? { start: `${plan.seasonYear}-04-10` };
  return { name, plan: { ...plan, season: { ...before, ...some } } };
}

/** Days a week alike from the start on. */
export function withDaysPerWeek(plan: Plan, daysPerWeek: number): Change {
  const start = plan.season?.start ?? `${plan.seasonYear}-04-10`;
  const workableDays = [{ from: start, to: start, daysPerWeek }];
  return withSeason(plan, `workable days a week → ${figure(daysPerWeek)}`, { workableDays });
}

export function withPlanter(plan: Plan, acPerDay: number, startsOn: string): Change {
  const [first, ...more] = plan.season?.planters ?? [];
  const planter = { ...(first ?? { id: "planter" }), acPerDay, startsOn };
  return withSeason(plan, `planter ${figure(acPerDay)} ac a day from ${startsOn}`, {
    planters: [planter, ...more],
  });
}

export function withTerms(plan: Plan, product: string, some: Partial<PlanOrderTerms>, name: string): Change {
  const terms = plan.order?.terms ?? [];
  const before = terms.find((one) => one.product === product) ?? { product, supplier: "supplier" };
  const others = terms.filter((one) => one.product !== product);
  return withOrder(plan, { terms: [...others, { ...before, ...some }] }, name);
}

/** One more line of the record; none is taken out. */
export function withBooking(plan: Plan, entry: PlanOrderEntry): Change {
  const book = [...(plan.order?.book ?? []), entry];
  return withOrder(plan, { book }, `${entry.kind} ${figure(entry.tons)} tons of ${entry.product}`);
}

export const withOrder = (plan: Plan, some: Partial<PlanOrder>, name: string): Change => ({
  name,
  plan: { ...plan, order: { ...plan.order, ...some } },
});
