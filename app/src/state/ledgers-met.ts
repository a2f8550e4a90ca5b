import { counted, InputError, LEDGER_PATH, ledgerOf, type Question } from "#core";
import type { NamedFile } from "../engine/protocol.ts";

/** How the ledger that the page has and that of the folder served stand to each other. */
export type LedgersMet =
  | { readonly kind: "same" }
  /** The folder's begins with the page's lines and has more of them: lines were written since. */
  | { readonly kind: "grown"; readonly lines: number }
  /** The page's begins with the folder's lines and has more of them. */
  | { readonly kind: "ahead"; readonly ownLines: number; readonly lines: number }
  /** The page's own does not read as it was written, and the folder's does. */
  | { readonly kind: "mended" }
  /** They differ from this line on. */
  | { readonly kind: "apart"; readonly line: number; readonly ownLines: number; readonly lines: number };

/** How two ledgers stand; of two that go apart or back the folder's counts where it alone reads as it was written. */
export async function metAndRead(own: Uint8Array, folders: Uint8Array): Promise<LedgersMet> {
  const met = metLedgers(own, folders);
  if (met.kind === "same" || met.kind === "grown") return met;
  return !(await isWhole(own)) && (await isWhole(folders)) ? { kind: "mended" } : met;
}

async function isWhole(ledger: Uint8Array): Promise<boolean> {
  try {
    await ledgerOf({ list: async () => [LEDGER_PATH], read: async () => ledger });
    return true;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** A ledger only grows: of two that begin alike the longer one is the newer; other line ends are no difference. */
export function metLedgers(own: Uint8Array, folders: Uint8Array): LedgersMet {
  const [mine, theirs] = [textOf(own), textOf(folders)];
  const [ownLines, lines] = [linesOf(mine), linesOf(theirs)];
  if (mine === theirs) return { kind: "same" };
  // A line that was being written when it was read goes on in the other.
  if (theirs.startsWith(mine)) return { kind: "grown", lines: lines.length - wholeLines(mine, theirs) };
  if (mine.startsWith(theirs)) return { kind: "ahead", ownLines: ownLines.length, lines: lines.length };
  const line = ownLines.findIndex((one, l) => one !== lines[l]) + 1;
  return { kind: "apart", line, ownLines: ownLines.length, lines: lines.length };
}

const textOf = (bytes: Uint8Array): string =>
  new TextDecoder()
    .decode(bytes)
    .replaceAll(/[\r\n]+/g, "\n")
    .replaceAll(/^\n|\n$/g, "");

const linesOf = (text: string): string[] => (text === "" ? [] : text.split("\n"));

/** Lines of a text that stand whole in the one that goes on from it. */
const wholeLines = (text: string, longer: string): number =>
  linesOf(text).length - (text === "" || longer[text.length] === "\n" ? 0 : 1);

/** The ledger among a plan's files; empty where there is none. */
export const ledgerAmong = (files: readonly NamedFile[]): Uint8Array =>
  files.find(([path]) => path === LEDGER_PATH)?.[1] ?? new Uint8Array();

/** The files with this ledger in place of theirs. */
export const withLedger = (files: readonly NamedFile[], ledger: NamedFile[1]): readonly NamedFile[] => [
  ...files.filter(([path]) => path !== LEDGER_PATH),
  [LEDGER_PATH, ledger],
];

/** What is told where the longer one was taken; empty where there is nothing to tell. */
export function ledgersInWords(met: LedgersMet): string {
  if (met.kind === "grown")
    return `${LEDGER_PATH} in the folder has ${counted(met.lines, "line")} more than the page had; maps, order and stick go by ${met.lines === 1 ? "it" : "them"} now.`;
  if (met.kind === "mended")
    return `${LEDGER_PATH} in the folder reads as it was written, which the page's own did not; maps, order and stick go by the folder's now.`;
  if (met.kind === "ahead")
    return `${LEDGER_PATH} in the folder has ${counted(met.lines, "line")}, the page's own ${met.ownLines}, the same ones among them: the page goes on with its own. Save the plan file and put its ${LEDGER_PATH} into the folder, else the command line goes by fewer.`;
  return "";
}

/** What is asked where neither goes on from the other: nobody but the user can say which one counts. */
export const ledgersQuestion = ({
  line,
  ownLines,
  lines,
}: Extract<LedgersMet, { kind: "apart" }>): Question => ({
  key: LEDGER_PATH,
  text: `${LEDGER_PATH} in the folder (${counted(lines, "line")}) and the one that the page kept (${counted(ownLines, "line")}) differ from line ${line} on. A ledger only grows, so one of the two is not this plan's, or both were written into. Which one counts here?`,
  choices: ["folder", "page"],
  seen: "",
});
