import type { Plan } from "./document-types.ts";
import { hashOf } from "./stage.ts";

/** Hash of what a plan says, whatever the order of its keys: two plans with one hash are the same plan. */
export const planHash = (plan: Plan): string => hashOf(sorted(plan));

/** Keys of a plan that its maps do not come from: name and day, what was booked since, fills and days of the season, the record. */
const NOT_OF_MAPS: readonly string[] = ["name", "date", "order", "season", "fills", "carried"];

/** Hash of what a plan says that its maps come from; who took note of the salt is none of it. */
export function mapsHash(plan: Plan): string {
  const ofMaps = Object.entries(plan).filter(([key]) => !NOT_OF_MAPS.includes(key));
  return hashOf(sorted(Object.fromEntries([...ofMaps, ["seed", { ...plan.seed, acknowledged: null }]])));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.map(([key, inside]) => [key, sorted(inside)]);
}
