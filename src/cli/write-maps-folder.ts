import { sum } from "../numeric/index.ts";
import { withMaps } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { mapFiles } from "../publish/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import { planFiles } from "./open-plan.ts";
import { writeOut } from "./out-folder.ts";
import type { WorkedPlan } from "./run-plan.ts";
import { toolVersion } from "./version.ts";

/** Writes maps of fields, by field id, into a folder of their own, read back, whole or not at all, with plan and manifest; how many. */
export async function writeMapsFolder(
  call: Call,
  out: string,
  { source, result }: WorkedPlan,
  maps: ReadonlyMap<string, readonly Prescription[]>,
): Promise<number> {
  const written = await withMaps(result, maps, nextTurn);
  const files = mapFiles(written, toolVersion(), await planFiles(source, result.plan));
  await writeOut(call, out, files);
  return sum(written.fields.map((field) => field.prescriptions.length));
}
