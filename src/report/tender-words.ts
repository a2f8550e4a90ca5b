import type { SeasonOfPlan } from "../plan/index.ts";
import { gainsNothing } from "./capacity-lines.ts";
import { firstOf } from "./first-of.ts";

/** What another tender or a shorter trip brings where it brings nothing in the farm's mean; null where it brings something. */
export function noTenderGain({ levers, fields }: Pick<SeasonOfPlan, "levers" | "fields">): string | null {
  const { anotherTender, today } = levers;
  if (anotherTender === null || !gainsNothing(anotherTender.acPerDay - today.acPerDay)) return null;
  const waiting = fields.filter(({ bound, isDone }) => bound === "tender" && !isDone);
  if (waiting.length === 0) return "another tender or a shorter trip: nothing to gain";
  const names = firstOf(waiting.map(({ name }) => name)).join(", ");
  return `another tender or a shorter trip: nothing to gain in the farm's mean, but the rig waits for it at ${names}`;
}
