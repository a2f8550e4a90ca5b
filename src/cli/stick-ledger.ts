import { InputError } from "../errors/index.ts";
import { type LedgerEvent, readLedger, standingEntries } from "../ledger/index.ts";
import { LEDGER_PATH } from "../plan/index.ts";
import type { StickMap, StickPass } from "../publish/index.ts";
import { realDisk } from "./disk-calls.ts";
import { addToLedger, ledgerBytes } from "./ledger-file.ts";
import { planFolder } from "./open-plan.ts";
import { today } from "./today.ts";

/**
 * The fields to write, those left out whose pass the plan's ledger says is finished: their maps are frozen. Empty stands
 * for all, as before. Throws `field-finished` when none is left.
 */
export function notFrozen(
  plan: string,
  pass: StickPass,
  asked: readonly string[],
  built: readonly string[],
  say: (line: string) => void,
): readonly string[] {
  const { entries } = readLedger(ledgerBytes(planFolder(plan), realDisk), LEDGER_PATH);
  const isFrozen = (field: string): boolean =>
    standingEntries(entries).some(
      (entry) => entry.kind === "finished" && entry.pass === pass && entry.fieldId === field,
    );
  const wanted = asked.length > 0 ? asked : built;
  const frozen = wanted.filter(isFrozen);
  if (frozen.length === 0) return asked;
  const names = frozen.join(", ");
  if (frozen.length === wanted.length) {
    throw new InputError(
      "field-finished",
      `the plan's ledger says that the ${pass} pass is finished in ${names}`,
      "Take that line of the ledger back first if it is wrong (ledger --void).",
    );
  }
  say(`Left out, finished by the plan's ledger: ${names}`);
  return wanted.filter((field) => !isFrozen(field));
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
