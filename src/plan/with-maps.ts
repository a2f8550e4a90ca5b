import type { Extra, Prescription } from "../prescription/index.ts";
import type { ZeroRate } from "./document/zero-rate.ts";
import { readBack } from "./maps/read-back.ts";
import { smallRateNotices } from "./maps/small-rate.ts";
import { controllerNotices, writeExtraForms, zeroNotices } from "./maps/write-extra-forms.ts";
import { writeMap } from "./maps/write-maps.ts";
import type { FieldResult, RunResult } from "./results/result-types.ts";
import { totalsOf } from "./totals.ts";

/** Notices of a field's files: what a controller may refuse of them, and what they lay beyond the maps. */
export const OF_FILES: readonly string[] = [
  "controller-limit",
  "holes-at-zero",
  "kept-clear-at-zero",
  "small-rate-beyond-map",
];

/**
 * A run's result with other maps in place of its own, files written and read back: catch-up maps, maps of what is left.
 * Fields without maps of their own are left out. With `zeroRate` also the other forms that the plan wants.
 */
export async function withMaps(
  result: RunResult,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  pause?: () => Promise<void>,
  zeroRate?: ZeroRate,
): Promise<RunResult> {
  const { plan } = result;
  const fields: FieldResult[] = [];
  for (const field of result.fields) {
    const own = maps.get(field.field.id);
    if (own === undefined) continue;
    const groundOf = (pass: Prescription["pass"]) => (pass === "strip" ? field.passes : field.swaths);
    const written = own.map((map) => writeMap(plan, map, groundOf(map.pass)));
    for (const map of written) await readBack(field.checked, map, pause);
    const extras: Extra[] = [];
    for (const pass of zeroRate === undefined ? [] : (["strip", "broadcast"] as const)) {
      const of = written.filter((map) => map.pass === pass);
      extras.push(
        ...(await writeExtraForms(plan, field.field, field.checked, groundOf(pass), of, zeroRate!, pause)),
      );
    }
    // What was said of the maps that these stand in for is not true of them.
    const others = field.notices.filter(({ code }) => !OF_FILES.includes(code));
    const limits = written.flatMap((map) => controllerNotices(plan, map, groundOf(map.pass)));
    fields.push({
      ...field,
      prescriptions: written,
      extras,
      notices: [
        ...others,
        ...limits,
        ...zeroNotices(field.field, extras),
        ...smallRateNotices(plan, { ...field, prescriptions: written, extras }, ["broadcast"]),
      ],
    });
  }
  const { planSha256, notices, blends, ledger } = result;
  // What the ledger says stands among the notices already.
  return { ...totalsOf(plan, planSha256, [], fields, [], fields.length, blends, ledger), notices };
}
