import type { RunResult } from "../plan/index.ts";
import { cabSheet, type RestWords } from "../report/index.ts";
import { mapFiles } from "./map-files.ts";
import { extraPath } from "./paths.ts";

/** The set of a remainder, as `stick` takes it: its maps with their other forms, and a cab sheet that says what it is. */
export function remainderFiles(
  result: RunResult,
  toolVersion: string,
  planFiles: ReadonlyMap<string, Uint8Array>,
  rest: RestWords,
): Map<string, Uint8Array> {
  const more = new Map<string, Uint8Array>();
  for (const extra of result.fields.flatMap((field) => field.extras)) {
    for (const [name, bytes] of extra.files) more.set(extraPath(extra, name), bytes);
  }
  more.set("cab.html", new TextEncoder().encode(cabSheet(result, rest)));
  return mapFiles(result, toolVersion, planFiles, more);
}
