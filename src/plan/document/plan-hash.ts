import type { Plan } from "./document-types.ts";
import { hashOf } from "./stage.ts";

/** Hash of what a plan says, whatever the order of its keys: two plans with one hash are the same plan. */
export const planHash = (plan: Plan): string => hashOf(sorted(plan));

/** Hash of what a plan says that its maps come from: not its name and day, what was booked since, fills and days of the season, or who took note. */
export function mapsHash(plan: Plan): string {
  const {
    name: _,
    date: __,
    order: ___,
    season: ____,
    carried: _____,
    fills: ______,
    seed,
    ...ofMaps
  } = plan;
  const { acknowledged: _______, ...place } = seed ?? {};
  return hashOf(sorted({ ...ofMaps, seed: place }));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.map(([key, inside]) => [key, sorted(inside)]);
}
