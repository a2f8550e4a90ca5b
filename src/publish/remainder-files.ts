import type { RunResult } from "../plan/index.ts";
import { cabSheet, type RestWords } from "../report/index.ts";
import { extraFiles } from "./catch-up-files.ts";
import { mapFiles } from "./map-files.ts";

/** The set of a remainder, as `stick` takes it: its maps with their other forms, and a cab sheet that says what it is. */
export function remainderFiles(
  result: RunResult,
  toolVersion: string,
  planFiles: ReadonlyMap<string, Uint8Array>,
  rest: RestWords,
): Map<string, Uint8Array> {
  const more = extraFiles(result);
  more.set("cab.html", new TextEncoder().encode(cabSheet(result, rest)));
  return mapFiles(result, toolVersion, planFiles, { more });
}
