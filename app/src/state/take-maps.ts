import { type Signal, signal } from "@preact/signals";
import { download } from "./download.ts";
import { beside, plan, putBeside } from "./opened.ts";
import { splitKey } from "./split-key.ts";
import { taken } from "./taken.ts";

/** What was taken away last, in words. */
export const takenWords: Signal<string> = signal("");

/** Write, read back and zip the maps of every field, and hand the zip to the browser. */
export async function downloadMaps(): Promise<void> {
  const of = plan.peek();
  if (!of) return;
  const zip = await taken({ kind: "prescriptions" });
  if (!zip) return;
  download(zip.name, zip.bytes, "application/zip");
  takenWords.value = `${zip.name}: ${zip.checked.join("; ")}. Test-load it today.`;
  putBeside({
    taken: {
      ...beside.peek().taken,
      ...Object.fromEntries(of.fields.map(({ id }) => [id, splitKey(of, id)])),
    },
  });
}
