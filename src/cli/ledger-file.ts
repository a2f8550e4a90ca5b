import { join } from "node:path";
import { InputError } from "../errors/index.ts";
import { type LedgerEntry, type LedgerEvent, ledgerAddition, readLedger } from "../ledger/index.ts";
import { LEDGER_PATH } from "../plan/index.ts";
import { sameBytes } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { takeLock } from "./folder-lock.ts";
import { writeThrough } from "./write-new.ts";

/** What the ledger of a plan folder holds; empty when there is none. Throws what the disk refuses. */
export function ledgerBytes(folder: string, disk: DiskCalls): Uint8Array {
  const path = join(folder, LEDGER_PATH);
  try {
    return disk.kind(path) === null ? new Uint8Array() : disk.read(path);
  } catch (error) {
    throw diskError(error, path);
  }
}

/**
 * Writes events at the end of a plan folder's ledger and waits until they are on the disk; what stood there stays byte for
 * byte. Whatever stops it, the file reads as before or with the first of the events; a line that was cut off is left out
 * when it is read, and the next addition begins a line of its own. All events are held against the ledger before the
 * first is written. `again`: pounds that stand there already count once more. Throws `ledger-damaged`, `field-finished`,
 * `no-such-entry`, `placed-twice`, `folder-busy`,
 * `came-back-different`, and what the disk refuses.
 */
export function addToLedger(
  folder: string,
  date: string,
  events: readonly LedgerEvent[],
  disk: DiskCalls,
  again: boolean = false,
): readonly LedgerEntry[] {
  const path = join(folder, LEDGER_PATH);
  try {
    return added(path, folder, date, events, disk, again);
  } catch (error) {
    throw diskError(error, path);
  }
}

/** Throws what `addToLedger` would refuse of the events; nothing is written. */
export function refuseEvents(
  folder: string,
  date: string,
  events: readonly LedgerEvent[],
  disk: DiskCalls,
  again: boolean = false,
): void {
  withEvents(ledgerBytes(folder, disk), date, events, again);
}

function withEvents(
  before: Uint8Array,
  date: string,
  events: readonly LedgerEvent[],
  again: boolean,
): Uint8Array {
  let all = before;
  for (const event of events)
    all = Buffer.concat([all, ledgerAddition(all, LEDGER_PATH, date, event, again)]);
  return all;
}

function added(
  path: string,
  folder: string,
  date: string,
  events: readonly LedgerEvent[],
  disk: DiskCalls,
  again: boolean,
): readonly LedgerEntry[] {
  const lock = takeLock(`${path}.lock`, path, disk);
  try {
    const before = ledgerBytes(folder, disk);
    const all = withEvents(before, date, events, again);
    const more = all.subarray(before.length);
    if (more.length === 0) return [];
    const isNew = disk.kind(path) === null;
    lock.confirm();
    const file = disk.openEnd(path);
    try {
      writeThrough(file, more, disk);
    } finally {
      disk.close(file);
    }
    if (isNew) disk.syncFolder(folder);
    const after = disk.read(path);
    if (!sameBytes(after, all)) {
      throw new InputError(
        "came-back-different",
        `${path} reads differently from what was written`,
        "Copy it to another disk and look at its last lines; do not go on with this disk.",
      );
    }
    return readLedger(after, LEDGER_PATH).entries.slice(-events.length);
  } finally {
    lock.release();
  }
}
