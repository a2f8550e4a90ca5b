import { lastOfPath } from "../formats/index.ts";
import { isCatchUpName, plannedStemOf, type RunResult } from "../plan/index.ts";
import { FALLBACK_MARK, KG_HA_MARK } from "../prescription/index.ts";
import { writeManifest } from "./manifest.ts";
import { prescriptionPath } from "./paths.ts";
import { resultJson } from "./result-json.ts";
import type { StickMap } from "./stick-json.ts";

const utf8 = new TextEncoder();

/** Maps alone, without sheets: result.json (with `also`), the maps' files, what they were made from, `more`, the manifest last. */
export function mapFiles(
  result: RunResult,
  toolVersion: string,
  planFiles: ReadonlyMap<string, Uint8Array>,
  { more, also }: { readonly more: ReadonlyMap<string, Uint8Array>; readonly also?: object },
): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  files.set("result.json", utf8.encode(`${JSON.stringify({ ...resultJson(result), ...also }, null, 1)}\n`));
  for (const prescription of result.fields.flatMap((field) => field.prescriptions)) {
    for (const [name, bytes] of prescription.files) files.set(prescriptionPath(prescription, name), bytes);
  }
  for (const [path, bytes] of more) files.set(path, bytes);
  for (const [path, bytes] of planFiles) files.set(`plan/${path}`, bytes);
  files.set("manifest.json", writeManifest({ files, planSha256: result.planSha256, toolVersion }));
  return files;
}

/** A catch-up map that stands beside the planned broadcast map it takes the place of. */
export interface CatchUpClash {
  readonly catchUp: string;
  readonly planned: string;
}

/** Names without the letter of their revision and their ending. */
const stemAsBuilt = (path: string): string => lastOfPath(path).replace(/(_[A-Z]{1,2})?\.[A-Za-z]+$/, "");

/** A stem and, where it ends in the mark of another form, the one that the map itself has. */
const stemsOf = (stem: string): string[] =>
  [FALLBACK_MARK, KG_HA_MARK].some((mark) => stem.endsWith(mark)) ? [stem, stem.slice(0, -1)] : [stem];

/**
 * Maps that would both be spread, in whatever form each is: each catch-up map beside its planned one, one entry a pair. `onStick` are the maps that a stick's own list
 * has, under whatever name or as a task.
 */
export function catchUpClashes(
  paths: readonly string[],
  onStick: readonly Pick<StickMap, "stem" | "files" | "load" | "name">[] = [],
): CatchUpClash[] {
  const shapes = paths.filter((path) => /\.shp$/i.test(path));
  return shapes.flatMap((catchUp) => {
    if (!isCatchUpName(catchUp)) return [];
    const stems = stemsOf(plannedStemOf(stemAsBuilt(catchUp)));
    const listed = onStick.find((map) => stems.includes(map.stem));
    const planned =
      listed?.files.find((path) => path.endsWith(".shp")) ??
      (listed && `the task “${listed.load?.name ?? listed.name}”`) ??
      shapes.find(
        (path) => path !== catchUp && stemsOf(stemAsBuilt(path)).some((stem) => stems.includes(stem)),
      );
    return planned === undefined ? [] : [{ catchUp, planned }];
  });
}
