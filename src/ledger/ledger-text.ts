import { InputError, type Notice } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import type { LedgerEntry, LedgerEvent } from "./ledger-entry.ts";
import { refusePlacedTwice } from "./placed-twice.ts";

export interface Ledger {
  readonly entries: readonly LedgerEntry[];
  /** Lines that a broken write left behind; nothing that was finished is among them. */
  readonly notices: readonly Notice[];
}

/** Digits of the check at the start of each line. */
const CHECK_DIGITS = 16;

const checkOf = (text: string): string => sha256Hex(new TextEncoder().encode(text)).slice(0, CHECK_DIGITS);

/**
 * Reads a ledger: one line an entry, its check before it; line ends may have become CR LF or CR. A line whose write was cut off is
 * left out with a notice: its number was never given out. Any other line that does not read as it was written, and a hole in
 * the numbers, means that a finished line was changed or lost. Throws `ledger-damaged` with the number of the line.
 */
export function readLedger(bytes: Uint8Array, name: string): Ledger {
  const entries: LedgerEntry[] = [];
  const notices: Notice[] = [];
  const lines = new TextDecoder().decode(bytes).split(/\r\n|\r|\n/);
  /** The first line since the last good one that does not read as it was written. */
  let unread: number | null = null;
  lines.forEach((line, l) => {
    if (line === "") return;
    // A last line that lacks nothing but its end is whole: the check says so.
    const entry = entryOf(line);
    if (entry === null) {
      unread ??= l + 1;
      if (!isCutOff(line, entries.length + 1)) throw damaged(`${name}, line ${unread}: ${UNREAD}`);
      const message = "a line was cut off while it was written and is left out; enter it again";
      notices.push({ code: "ledger-line-cut-off", message, where: `${name}, line ${l + 1}` });
      return;
    }
    if (entry.number !== entries.length + 1) {
      const gap = `entry ${entry.number} follows ${entries.length === 0 ? "nothing" : `entry ${entries.length}`}`;
      throw damaged(
        unread === null
          ? `${name}, line ${l + 1}: ${gap}`
          : `${name}, line ${unread}: ${UNREAD}, and in line ${l + 1} ${gap}`,
      );
    }
    entries.push(entry);
    unread = null;
  });
  return { entries, notices };
}

const UNREAD = "it does not read as it was written";

const damaged = (message: string): InputError =>
  new InputError(
    "ledger-damaged",
    message,
    "A finished line was changed or lost: take the file from a backup.",
  );

/** The beginning of the line that would have come next, perhaps with empty bytes after it: no finished line reads like that. */
function isCutOff(line: string, next: number): boolean {
  const begun = line.replace(/\0+$/, "");
  const head = `{"number":${next},`;
  const text = begun.slice(CHECK_DIGITS + 1);
  if (!/^[0-9a-f]{0,15}$|^[0-9a-f]{16}( |$)/.test(begun)) return false;
  return head.startsWith(text) || (text.startsWith(head) && !isWhole(text));
}

function isWhole(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

function entryOf(line: string): LedgerEntry | null {
  const text = line.slice(CHECK_DIGITS + 1);
  if (line[CHECK_DIGITS] !== " " || line.slice(0, CHECK_DIGITS) !== checkOf(text)) return null;
  return JSON.parse(text) as LedgerEntry;
}

/**
 * The bytes to add at the end of the ledger file for one more event: never anything else is written. After a line that was
 * cut off they begin on a new line. Throws the errors of `readLedger`, `field-finished` for work on a frozen field, and
 * `placed-twice` for pounds that stand there already, unless `again` says that they are others.
 */
export function ledgerAddition(
  existing: Uint8Array,
  name: string,
  date: string,
  event: LedgerEvent,
  again: boolean = false,
): Uint8Array<ArrayBuffer> {
  const { entries } = readLedger(existing, name);
  refuseFrozen(entries, event);
  if (!again) refusePlacedTwice(standingEntries(entries), date, event);
  const entry = { number: entries.length + 1, date, ...event };
  const text = JSON.stringify(entry);
  const cutOff = existing.length > 0 && existing[existing.length - 1] !== 0x0a;
  return new TextEncoder().encode(`${cutOff ? "\n" : ""}${checkOf(text)} ${text}\n`);
}

/** Entries that count: neither taken back nor taking back. */
export function standingEntries(entries: readonly LedgerEntry[]): LedgerEntry[] {
  const voided = new Set(entries.flatMap((entry) => (entry.kind === "void" ? [entry.voids] : [])));
  return entries.filter((entry) => entry.kind !== "void" && !voided.has(entry.number));
}

function refuseFrozen(entries: readonly LedgerEntry[], event: LedgerEvent): void {
  if (event.kind === "void") {
    if (standingEntries(entries).some((entry) => entry.number === event.voids)) return;
    const before = entries.find((entry) => entry.kind === "void" && entry.voids === event.voids);
    throw new InputError(
      "no-such-entry",
      before === undefined
        ? `entry ${event.voids} is not in the ledger`
        : `entry ${event.voids} was taken back already, by entry ${before.number}`,
      "Give the number of an entry to take back.",
    );
  }
  if (event.kind !== "placed" && event.kind !== "loaded" && event.kind !== "finished") return;
  const pass = event.kind === "loaded" ? "strip" : event.pass;
  const finished = standingEntries(entries).find(
    (entry) => entry.kind === "finished" && entry.fieldId === event.fieldId && entry.pass === pass,
  );
  if (finished === undefined) return;
  throw new InputError(
    "field-finished",
    `${event.fieldId} was finished (${pass}) on ${finished.date}, entry ${finished.number}`,
    `Take entry ${finished.number} back first if that was wrong.`,
  );
}
