import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import { download } from "./download.ts";
import { beside, opened, plan, putBeside } from "./opened.ts";
import { filesKey } from "./split-key.ts";
import { taken } from "./taken.ts";

/** What maps were made for. */
export interface MadeFor {
  readonly origin: string;
  /** What each field's files were made for, by field. */
  readonly of: Readonly<Record<string, string>>;
}

/** A zip that was taken away, with what it was made of. */
interface TakenZip extends MadeFor {
  readonly words: string;
}

const takenZips: Signal<readonly TakenZip[]> = signal([]);

/** What was said of the newest zip of the plan as it stands, as long as its maps are those; else empty. */
export const takenWords: ReadonlySignal<string> = computed(() => {
  const fits = takenZips.value.findLast(isMadeFor);
  return fits?.words ?? "";
});

/** What each field's maps are made for, by field, in the plan as it stands now; null without one. */
export const madeForNow = (): MadeFor | null => {
  const of = plan.peek();
  return of && { origin: opened.peek()?.origin ?? "", of: keysOf(of) };
};

/** Whether maps made for it are those of the open plan as it stands. */
export function isMadeFor({ origin, of }: MadeFor): boolean {
  const now = plan.value;
  if (!now || origin !== opened.value?.origin) return false;
  const keys = keysOf(now);
  return Object.keys(of).length === now.fields.length && now.fields.every(({ id }) => of[id] === keys[id]);
}

const keysOf = (of: Plan): Record<string, string> =>
  Object.fromEntries(of.fields.map(({ id }) => [id, filesKey(of, id)]));

/** Write, read back and zip the maps of every field, and hand the zip to the browser. */
export async function downloadMaps(): Promise<void> {
  const made = madeForNow();
  if (!made) return;
  const zip = await taken({ kind: "prescriptions" });
  if (!zip) return;
  download(zip.name, zip.bytes, "application/zip");
  const words = `${zip.name}: ${zip.checked.join("; ")}. Test-load it today.`;
  takenZips.value = [...takenZips.peek(), { ...made, words }];
  putBeside({ taken: { ...beside.peek().taken, ...made.of } });
}
