import { sum } from "../numeric/index.ts";
import { noticesOfFiles, withCatchUps } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { catchUpFiles } from "../publish/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import { planFiles } from "./open-plan.ts";
import { writeOut } from "./out-folder.ts";
import type { WorkedPlan } from "./run-plan.ts";
import { sayNotices } from "./talk.ts";
import { toolVersion } from "./version.ts";

/**
 * Writes catch-up maps of fields, by field id, into a folder of their own, read back, whole or not at all, with plan and
 * manifest; how many. What their controller may refuse of them is told.
 */
export async function writeMapsFolder(
  call: Call,
  out: string,
  { source, result }: WorkedPlan,
  maps: ReadonlyMap<string, readonly Prescription[]>,
): Promise<number> {
  const answers = Object.fromEntries(call.options.answer);
  const written = await withCatchUps(result, maps, answers, nextTurn);
  const files = catchUpFiles(written, toolVersion(), await planFiles(source, result.plan));
  await writeOut(call, out, files);
  sayNotices(call.talk, noticesOfFiles(written));
  return sum(written.fields.map((field) => field.prescriptions.length));
}
