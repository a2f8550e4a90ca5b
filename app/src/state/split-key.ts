import type { Plan } from "#core";

/** How much the rig holds and how fast it works: no part of a split that is not reckoned from them. */
const RIG_AT_WORK: ReadonlySet<string> = new Set([
  "turnEfficiency",
  "hoursPerDay",
  "minutesPerStop",
  "fillLbPerMin",
  "reserveShare",
  "carriesLb",
  "movableWall",
  "volumeFt3",
  "mostLb",
  "lbPerFt3",
  "filledShare",
  "residualLb",
]);

/**
 * What a field's split was kept for, or its files taken for: they are out of date once any of this changes. Fills,
 * season and order come after the split; the rig at work, tender and prices count only where it is reckoned from them.
 */
export function splitKey(plan: Plan, field: string): string {
  const {
    fields,
    tender,
    pricesUsdPerTon,
    fills: _fills,
    season: _season,
    order: _order,
    carried: _carried,
    ...rest
  } = plan;
  const { method, acresPerDay } = plan.split;
  const isByWork = method === "optimum" || acresPerDay !== undefined;
  const isByPrice = method === "optimum" || Boolean(plan.budget ?? plan.blends ?? plan.products);
  return JSON.stringify(
    [
      fields.find(({ id }) => id === field),
      rest,
      isByWork ? tender : undefined,
      isByPrice ? pricesUsdPerTon : undefined,
    ],
    (key: string, value: unknown) => (!isByWork && RIG_AT_WORK.has(key) ? undefined : value),
  );
}
