import type { Prescription } from "../prescription/index.ts";
import { readBack } from "./read-back.ts";
import type { FieldResult, RunResult } from "./result-types.ts";
import { totalsOf } from "./totals.ts";
import { writeMap } from "./write-maps.ts";

/**
 * A run's result with other maps in place of its own, files written and read back: catch-up maps, maps of what is left.
 * Fields without maps of their own are left out.
 */
export async function withMaps(
  result: RunResult,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  pause?: () => Promise<void>,
): Promise<RunResult> {
  const fields: FieldResult[] = [];
  for (const field of result.fields) {
    const own = maps.get(field.field.id);
    if (own === undefined) continue;
    const written = own.map((map) =>
      writeMap(result.plan, map, map.pass === "strip" ? field.passes : field.swaths),
    );
    for (const map of written) await readBack(field.checked, map, pause);
    fields.push({ ...field, prescriptions: written, extras: [] });
  }
  const { plan, planSha256, notices, blends, ledger } = result;
  // What the ledger says stands among the notices already.
  return { ...totalsOf(plan, planSha256, [], fields, [], fields.length, blends, ledger), notices };
}
