import type { Plan } from "./document-types.ts";
import { hashOf } from "./stage.ts";

/** Hash of what a plan says, whatever the order of its keys: two plans with one hash are the same plan. */
export const planHash = (plan: Plan): string => hashOf(sorted(plan));

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.map(([key, inside]) => [key, sorted(inside)]);
}
