import { type Signal, signal } from "@preact/signals";
import { LEDGER_PATH, type Question, sameBytes } from "#core";
import type { NamedFile } from "../engine/protocol.ts";
import { type LedgersMet, ledgerAmong, ledgersQuestion, metAndRead, withLedger } from "./ledgers-met.ts";
import { type Opened, opened } from "./opened.ts";
import { refusal } from "./results.ts";

/** What became of the ledger since the page had it last; null where nothing did, or once it is read. */
export const ledgerTold: Signal<LedgersMet | null> = signal(null);

/** The page's ledger and the folder's have gone apart: nothing is worked out until one is chosen. */
export const ledgersApart: Signal<{ readonly question: Question; readonly folders: NamedFile[1] } | null> =
  signal(null);

/** Ledgers whose difference was told of or answered since the plan was opened. */
let dealtWith: readonly [own: Uint8Array, folders: Uint8Array] | null = null;

/**
 * The plan's surroundings with the ledger that counts: the folder's where that one goes on from the page's. The same object
 * where it is the page's, or where `isStill` says that nobody waits for it any more.
 */
export async function withFoldersLedger(
  of: Opened,
  folders: NamedFile[1],
  isStill: () => boolean = () => true,
): Promise<Opened> {
  const own = ledgerAmong(of.files);
  if (dealtWith && sameBytes(dealtWith[0], own) && sameBytes(dealtWith[1], folders)) return of;
  const met = await metAndRead(own, folders);
  if (!isStill()) return of;
  const isTaken = met.kind === "grown" || met.kind === "mended";
  if (ledgersApart.peek()) refusal.value = null;
  ledgersApart.value = met.kind === "apart" ? { question: ledgersQuestion(met), folders } : null;
  if (isTaken || met.kind === "ahead") ledgerTold.value = met;
  // That lines were taken in is told until it is read.
  else if (ledgerTold.peek()?.kind === "ahead") ledgerTold.value = null;
  if (isTaken) return { ...of, files: withLedger(of.files, folders) };
  dealtWith = [own, folders];
  return of;
}

/** Take the ledger that the answers say counts: `folder`, or the page's own. */
export function chooseLedger(given: Readonly<Partial<Record<string, string>>>): void {
  const apart = ledgersApart.peek();
  const of = opened.peek();
  if (!apart || !of) return;
  refusal.value = null;
  ledgersApart.value = null;
  if (given[LEDGER_PATH] === "folder") opened.value = { ...of, files: withLedger(of.files, apart.folders) };
}

/** A plan is opened: what was told of a ledger before is not of this one. */
export function forgetLedgers(): void {
  dealtWith = null;
  ledgerTold.value = null;
  ledgersApart.value = null;
}
