import { type RunResult, withMaps } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { mapFiles } from "../publish/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import type { OpenedSource } from "./open-source.ts";
import { prepareFolder, publishFolder } from "./swap.ts";
import { toolVersion } from "./version.ts";

/** Writes maps of fields into a folder of their own, read back, whole or not at all, with plan and manifest. */
export async function writeMapsFolder(
  call: Call,
  out: string,
  source: OpenedSource,
  result: RunResult,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  more: ReadonlyMap<string, Uint8Array> = new Map(),
): Promise<number> {
  const { options, talk, signal } = call;
  for (const notice of await prepareFolder(out, options.overwrite)) talk.say(notice.message);
  const written = await withMaps(result, maps, nextTurn);
  const planFiles = new Map([["plan.json", await source.read("plan.json")]]);
  const present = new Set(await source.list());
  for (const { path } of result.plan.sources)
    if (present.has(path)) planFiles.set(path, await source.read(path));
  const files = mapFiles(written, toolVersion(), planFiles, more);
  const leftovers = await publishFolder(out, files, {
    overwrite: options.overwrite,
    signal,
    onProgress: (done, total) => talk.progress("Writing file", done, total),
  });
  for (const notice of leftovers) talk.say(notice.message);
  return written.fields.reduce((sum, field) => sum + field.prescriptions.length, 0);
}
