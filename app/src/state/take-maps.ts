import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import { download } from "./download.ts";
import { beside, opened, plan, putBeside } from "./opened.ts";
import { splitKey } from "./split-key.ts";
import { taken } from "./taken.ts";

/** A zip that was taken away, with what it was made of. */
interface TakenZip {
  readonly origin: string;
  /** What each field's files were made for, by field. */
  readonly of: Readonly<Record<string, string>>;
  readonly words: string;
}

const takenZips: Signal<readonly TakenZip[]> = signal([]);

/** What was said of the newest zip of the plan as it stands, as long as its maps are those; else empty. */
export const takenWords: ReadonlySignal<string> = computed(() => {
  const [now, origin] = [plan.value, opened.value?.origin];
  if (!now || takenZips.value.length === 0) return "";
  const keys = madeFor(now);
  const fits = takenZips.value.findLast(
    (zip) =>
      zip.origin === origin &&
      Object.keys(zip.of).length === now.fields.length &&
      now.fields.every(({ id }) => zip.of[id] === keys[id]),
  );
  return fits?.words ?? "";
});

const madeFor = (of: Plan): Record<string, string> =>
  Object.fromEntries(of.fields.map(({ id }) => [id, splitKey(of, id)]));

/** Write, read back and zip the maps of every field, and hand the zip to the browser. */
export async function downloadMaps(): Promise<void> {
  const of = plan.peek();
  const origin = opened.peek()?.origin ?? "";
  if (!of) return;
  const zip = await taken({ kind: "prescriptions" });
  if (!zip) return;
  download(zip.name, zip.bytes, "application/zip");
  const made = madeFor(of);
  const words = `${zip.name}: ${zip.checked.join("; ")}. Test-load it today.`;
  takenZips.value = [...takenZips.peek(), { origin, of: made, words }];
  putBeside({ taken: { ...beside.peek().taken, ...made } });
}
