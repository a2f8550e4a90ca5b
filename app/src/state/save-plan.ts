import { download } from "./download.ts";
import { takeAway } from "./errands.ts";
import { history, opened } from "./opened.ts";
import { trouble } from "./results.ts";

/** Save the plan's folder, its files in it, as one zip. */
export async function savePlanFile(): Promise<void> {
  if (!opened.peek() || !history.peek()) return;
  try {
    const taken = await takeAway({ kind: "plan" });
    download(taken.name, taken.bytes, "application/zip");
  } catch (error) {
    if (error && typeof error === "object" && "kind" in error && error.kind === "trouble") {
      trouble.value = (error as unknown as { trouble: typeof trouble.value }).trouble;
    }
  }
}
