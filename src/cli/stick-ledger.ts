import { InputError } from "../errors/index.ts";
import {
  type FieldStand,
  fieldStands,
  type LedgerEvent,
  readLedger,
  standingEntries,
} from "../ledger/index.ts";
import { type FileSource, LEDGER_PATH } from "../plan/index.ts";
import { remainderOf } from "../prescription/index.ts";
import type { BuiltMap, StickMap, StickPass } from "../publish/index.ts";
import { standInWords } from "../report/index.ts";
import { realDisk } from "./disk-calls.ts";
import { addToLedger, ledgerBytes } from "./ledger-file.ts";
import { planFolder } from "./open-plan.ts";
import { today } from "./today.ts";

/** What a plan's ledger makes of the maps that are to go on a stick. */
export interface LedgerLook {
  /** Fields to write; empty stands for all. */
  readonly only: readonly string[];
  /** Fields that lie stripped or part stripped, in words for who loads the maps. */
  readonly said: readonly string[];
}

/**
 * The fields to write. Left out are those whose pass the ledger says is finished: their maps are frozen; and those that lie
 * stripped, unless `reissue`. One that is part stripped is written and told, unless its maps are a remainder's.
 * Throws `field-finished` or `field-stripped` when none is left.
 */
export async function lookInLedger(
  plan: string,
  pass: StickPass,
  asked: readonly string[],
  { build, maps }: { readonly build: FileSource; readonly maps: readonly BuiltMap[] },
  reissue: boolean,
  say: (line: string) => void,
): Promise<LedgerLook> {
  const { entries } = readLedger(ledgerBytes(planFolder(plan), realDisk), LEDGER_PATH);
  const isFrozen = (field: string): boolean =>
    standingEntries(entries).some(
      (entry) => entry.kind === "finished" && entry.pass === pass && entry.fieldId === field,
    );
  const wanted = asked.length > 0 ? asked : [...new Set(maps.map((map) => map.field))];
  const frozen = wanted.filter(isFrozen);
  if (wanted.length > 0 && frozen.length === wanted.length) {
    throw new InputError(
      "field-finished",
      `the plan's ledger says that the ${pass} pass is finished in ${frozen.join(", ")}`,
      "Take that line of the ledger back first if it is wrong (ledger --void).",
    );
  }
  if (frozen.length > 0) say(`Left out, finished by the plan's ledger: ${frozen.join(", ")}`);
  const open = wanted.filter((field) => !isFrozen(field));
  if (pass !== "strip") return { only: frozen.length === 0 ? asked : open, said: [] };
  const names = await builtFields(build);
  const stands = fieldStands(
    entries,
    open
      .filter((field) => maps.some((map) => map.field === field && remainderOf(map.stem) === null))
      .map((fieldId) => ({
        fieldId,
        areaAc: names.get(fieldId)?.areaAc ?? Number.POSITIVE_INFINITY,
        plannedStripLb: null,
        stripProducts: maps
          .filter((map) => map.field === fieldId && map.pass === "strip" && map.totalLb > 0)
          .map((map) => map.product),
      })),
  ).filter(({ strippedAc }) => strippedAc > 0);
  const words = (stand: FieldStand): string =>
    standInWords(names.get(stand.fieldId)?.name ?? stand.fieldId, stand);
  const stripped = stands.filter(({ state }) => state === "stripped");
  if (reissue || stripped.length === 0) {
    return { only: frozen.length === 0 ? asked : open, said: stands.map(words) };
  }
  const left = open.filter((field) => stripped.every(({ fieldId }) => fieldId !== field));
  if (left.length === 0) {
    throw new InputError(
      "field-stripped",
      `by the plan's ledger nothing is left to strip: ${stripped.map(words).join("; ")}`,
      "Finish the pass with `ledger --finish FIELD`, take a wrong line back with `ledger --void`, or add --reissue to write the whole field's maps all the same.",
    );
  }
  for (const stand of stripped) say(`Left out (--reissue writes it all the same): ${words(stand)}`);
  return { only: left, said: stands.filter(({ state }) => state !== "stripped").map(words) };
}

/** Names and acres of a build's fields. */
async function builtFields(
  build: FileSource,
): Promise<ReadonlyMap<string, { readonly name: string; readonly areaAc: number }>> {
  const text = new TextDecoder().decode(await build.read("result.json"));
  const { fields } = JSON.parse(text) as {
    readonly fields: readonly { readonly id: string; readonly name: string; readonly areaAc: number }[];
  };
  return new Map(fields.map((field) => [field.id, field]));
}

/** A line a map that went on the stick, into the plan's ledger; how many. Only the strip rig's maps are kept there. */
export function tellLedger(
  plan: string,
  pass: StickPass,
  revision: string,
  maps: readonly StickMap[],
): number {
  if (pass !== "strip") return 0;
  const events = maps.map(
    ({ field, name }): LedgerEvent => ({ kind: "loaded", fieldId: field, map: name, revision }),
  );
  return addToLedger(planFolder(plan), today(), events, realDisk).length;
}
