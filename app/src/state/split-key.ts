import { type Plan, wantedForms } from "#core";

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

/** The parts of the key that all fields share, as JSON, by plan: every field is asked for at every move. */
const shared = new WeakMap<Plan, readonly [counts: Replacer, parts: string]>();
type Replacer = (key: string, value: unknown) => unknown;

function sharedOf(plan: Plan): readonly [Replacer, string] {
  const known = shared.get(plan);
  if (known) return known;
  const {
    fields: _fields,
    tender,
    pricesUsdPerTon,
    fills: _fills,
    season: _season,
    order: _order,
    carried: _carried,
    controller: _controller,
    extras: _extras,
    ...rest
  } = plan;
  const { method, acresPerDay } = plan.split;
  const isByWork = method === "optimum" || acresPerDay !== undefined;
  const isByPrice = method === "optimum" || Boolean(plan.budget ?? plan.blends ?? plan.products);
  const counts: Replacer = (key, value) => (!isByWork && RIG_AT_WORK.has(key) ? undefined : value);
  const parts = [rest, isByWork ? tender : undefined, isByPrice ? pricesUsdPerTon : undefined];
  const made = [counts, JSON.stringify(parts, counts)] as const;
  shared.set(plan, made);
  return made;
}

/**
 * What a field's split was kept for: it is out of date once any of this changes. Fills, season, order and the controller's
 * forms come after the split; the rig at work, tender and prices count only where it is reckoned from them.
 */
export function splitKey(plan: Plan, field: string): string {
  const [counts, parts] = sharedOf(plan);
  const own = plan.fields.find(({ id }) => id === field);
  return `[${JSON.stringify(own, counts)},${parts.slice(1)}`;
}

/** What a field's files were taken for: its split, and the forms they were written in. What a rate 0 does is in the other forms alone. */
export function filesKey(plan: Plan, field: string): string {
  const { zeroRate, smallRateLbPerAc, ...controller } = plan.controller ?? {};
  const forms = wantedForms(plan);
  const ofForms = forms.length === 0 ? [controller] : [controller, forms, zeroRate, smallRateLbPerAc];
  return `${splitKey(plan, field)}${JSON.stringify(ofForms)}`;
}
