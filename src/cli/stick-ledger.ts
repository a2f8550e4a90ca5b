import { type LedgerEntry, type LedgerEvent, readLedger } from "../ledger/index.ts";
import { type FileSource, LEDGER_PATH } from "../plan/index.ts";
import type { StickMap, StickPass } from "../publish/index.ts";
import { realDisk } from "./disk-calls.ts";
import { addToLedger, ledgerBytes } from "./ledger-file.ts";
import { planFolder } from "./open-plan.ts";
import { today } from "./today.ts";

/** Every line of a plan's ledger. */
export const ledgerEntries = (plan: string): readonly LedgerEntry[] =>
  readLedger(ledgerBytes(planFolder(plan), realDisk), LEDGER_PATH).entries;

/** Every line of the ledger that a build was made with; none where the plan had none. */
export async function ledgerOfBuild(build: FileSource): Promise<readonly LedgerEntry[]> {
  const path = `plan/${LEDGER_PATH}`;
  if (!(await build.list()).includes(path)) return [];
  return readLedger(await build.read(path), path).entries;
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
