import type { Plan } from "./document-types.ts";
import { hashOf } from "./stage.ts";

/** Hash of what a plan says, whatever the order of its keys: two plans with one hash are the same plan. */
export const planHash = (plan: Plan): string => hashOf(sorted(plan));

/** Hash of what a plan says that its maps and their sheets come from: not what was booked since, the days of the season, or last year's record. */
export const mapsHash = ({ order: _, season: __, carried: ___, ...ofMaps }: Plan): string =>
  hashOf(sorted(ofMaps));

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.map(([key, inside]) => [key, sorted(inside)]);
}
