import { type Signal, signal } from "@preact/signals";
import { download } from "./download.ts";
import { type Taken, takeAway } from "./errands.ts";
import { beside, plan, putBeside } from "./opened.ts";
import { trouble } from "./results.ts";
import { splitKey } from "./split-key.ts";

/** What was taken away last, in words. */
export const takenWords: Signal<string> = signal("");

/** Write, read back and zip the maps of every field, and hand the zip to the browser. */
export async function downloadMaps(): Promise<void> {
  const of = plan.peek();
  if (!of) return;
  const taken = await tryTake(takeAway({ kind: "prescriptions", fields: [] }));
  if (!taken) return;
  download(taken.name, taken.bytes, "application/zip");
  takenWords.value = `${taken.name}: ${taken.checked.join("; ")}. Test-load it today.`;
  putBeside({
    taken: {
      ...beside.peek().taken,
      ...Object.fromEntries(of.fields.map(({ id }) => [id, splitKey(of, id)])),
    },
  });
}

/** One sheet as its HTML text; null when it could not be made. */
export async function takeSheet(path: string): Promise<string | null> {
  const taken = await tryTake(takeAway({ kind: "sheet", path }));
  return taken && new TextDecoder().decode(taken.bytes);
}

async function tryTake(taking: Promise<Taken>): Promise<Taken | null> {
  try {
    return await taking;
  } catch (error) {
    const told = error as { kind?: string; trouble?: typeof trouble.value };
    if (told.kind !== "trouble" || !told.trouble) throw error;
    trouble.value = told.trouble;
    return null;
  }
}
