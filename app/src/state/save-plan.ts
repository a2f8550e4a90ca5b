import { type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import { download } from "./download.ts";
import { takeAway } from "./errands.ts";
import { history, opened } from "./opened.ts";
import { trouble } from "./results.ts";

/** The plan as it was when its file was saved last; null before that. */
export const savedPlan: Signal<{ readonly plan: Plan; readonly at: number } | null> = signal(null);

/** Save the plan's folder, its files in it, as one zip. */
export async function savePlanFile(): Promise<void> {
  const now = history.peek();
  if (!opened.peek() || !now) return;
  try {
    const taken = await takeAway({ kind: "plan" });
    download(taken.name, taken.bytes, "application/zip");
    savedPlan.value = { plan: now.plan, at: Date.now() };
  } catch (error) {
    if (error && typeof error === "object" && "kind" in error && error.kind === "trouble") {
      trouble.value = (error as unknown as { trouble: typeof trouble.value }).trouble;
    }
  }
}
