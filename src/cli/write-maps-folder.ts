import { noticesOfFiles, withCatchUps } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { builtMaps, type CatchUpPlace, catchUpFiles, catchUpPlace } from "../publish/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import { planFiles } from "./open-plan.ts";
import { writeOut } from "./out-folder.ts";
import type { WorkedPlan } from "./run-plan.ts";
import { sayNotices } from "./talk.ts";
import { toolVersion } from "./version.ts";

/**
 * Writes catch-up maps of fields, by field id, into a folder of their own, read back, whole or not at all, with plan and
 * manifest; how many, and where what is to be copied is. What their controller may refuse of them is told. `takesPlaceOf`: stems of
 * the planned maps whose place they take.
 */
export async function writeMapsFolder(
  call: Call,
  out: string,
  { source, result }: WorkedPlan,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  takesPlaceOf: readonly string[],
): Promise<{ readonly count: number; readonly place: CatchUpPlace }> {
  const answers = Object.fromEntries(call.options.answer);
  const written = await withCatchUps(result, maps, answers, nextTurn);
  const files = catchUpFiles(written, toolVersion(), await planFiles(source, result.plan), takesPlaceOf);
  await writeOut(call, out, files);
  sayNotices(call.talk, noticesOfFiles(written));
  const built = await builtMaps({
    list: async () => [...files.keys()],
    read: async (path) => files.get(path)!,
  });
  return { count: built.length, place: catchUpPlace(result.plan, built) };
}
