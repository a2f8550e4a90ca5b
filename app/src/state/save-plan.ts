import { type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import { download } from "./download.ts";
import { plan } from "./opened.ts";
import { taken } from "./taken.ts";

/** The plan as it was when its file was saved last; null before that. */
export const savedPlan: Signal<{ readonly plan: Plan; readonly at: number } | null> = signal(null);

/** Save the plan's folder, its files in it, as one zip. */
export async function savePlanFile(): Promise<void> {
  const now = plan.peek();
  if (!now) return;
  const zip = await taken({ kind: "plan" });
  if (!zip) return;
  download(zip.name, zip.bytes, "application/zip");
  savedPlan.value = { plan: now, at: Date.now() };
}
