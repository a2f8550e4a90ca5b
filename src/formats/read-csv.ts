import { InputError, type Notice } from "../errors/index.ts";
import { counted } from "../units/index.ts";
import { type CsvRecord, csvRecords } from "./csv-records.ts";
import { readText } from "./read-text.ts";
import { headingRow, isUnitsRow } from "./table-rows.ts";

interface TableRow {
  /** Line of the file on which the row begins, from 1; every line of the file counts. */
  readonly line: number;
  /** One a heading, as they stand in the file, not trimmed. */
  readonly cells: readonly string[];
}

export interface Table {
  readonly name: string;
  /** Trimmed. A heading may be blank, but no other may occur twice. */
  readonly headings: readonly string[];
  /** What a row of units below the headings says, one a heading, trimmed; null without such a row. */
  readonly units: readonly string[] | null;
  readonly rows: readonly TableRow[];
  readonly encoding: string;
  readonly notices: readonly Notice[];
}

const SEPARATORS = ["\t", ";", "|", ","] as const;
const SEPARATOR_NAMES: Readonly<Record<string, string>> = { "\t": "tabs", ";": "semicolons", "|": "bars" };
const LOOKED_AT = 65_536;

/**
 * A table of separated text (RFC 4180, also with semicolons, tabs or bars for commas); `name` is the file's name for
 * messages. Lines above the heading row are passed over with a notice, and so are words that stand alone below the last row;
 * a row of units below the headings is taken as such.
 * Rows without any text are left out with a notice (blank lines at the end without one).
 * Throws `empty-file`, `no-headings`, `no-rows`, `repeated-heading`, `row-length` and the errors of `csvRecords`.
 */
export function readCsv(bytes: Uint8Array, name: string): Table {
  const { text, encoding } = readText(bytes);
  const separator = separatorOf(text);
  const records = csvRecords(text, separator, name);
  if (records.length === 0 || text.trim() === "") {
    throw new InputError("empty-file", `${name} is empty`, "Choose the file with the table.");
  }
  const notices: Notice[] = [];
  const at = headingRow(records);
  const heading = records[at ?? 0]!;
  if (at === undefined) throw noHeadings(heading.line, name);
  const headings = checkedHeadings(heading, name);
  const passed = records.slice(0, at).filter(hasText);
  if (passed.length > 0) {
    const lines = passed.length === 1 ? `line ${passed[0]!.line}` : `lines 1 to ${heading.line - 1}`;
    notices.push({ code: "above-headings", message: `${lines} above the headings passed over`, where: name });
  }
  if (separator !== ",") {
    const message = `cells are separated by ${SEPARATOR_NAMES[separator]}`;
    notices.push({ code: "separator", message, where: name });
  }
  const below = records.slice(at + 1);
  const closing = headings.length < 3 ? [] : wordsAtEnd(below, headings.length);
  if (closing.length > 0) below.length = below.indexOf(closing[0]!);
  for (const { line, cells } of closing)
    notices.push({
      code: "below-rows",
      message: `line ${line} below the rows passed over: “${cells[0]!.trim()}”`,
      where: name,
    });
  const units =
    below[0] !== undefined && isUnitsRow(below[0].cells) ? fitted(below.shift()!, headings, name) : null;
  const rows: TableRow[] = [];
  const blankLines: number[] = [];
  for (const record of below) {
    if (hasText(record)) rows.push({ line: record.line, cells: fitted(record, headings, name) });
    else blankLines.push(record.line);
  }
  const lastLine = rows.at(-1)?.line;
  if (lastLine === undefined) {
    throw new InputError("no-rows", `${name} has headings and no rows`, "Add the rows below the headings.");
  }
  const left = blankLines.filter((line) => line < lastLine);
  if (left.length > 0) {
    const lines = `${left.length === 1 ? "line" : "lines"} ${left.join(", ")}`;
    notices.push({ code: "blank-rows", message: `${lines} left out: no text in any cell`, where: name });
  }
  return { name, headings, units: units?.map((unit) => unit.trim()) ?? null, rows, encoding, notices };
}

const hasText = (record: CsvRecord): boolean => record.cells.some((cell) => cell.trim() !== "");

/**
 * Words and blank lines with which a file ends, such as a comment or a closing line: no cells, more than one word or one with a
 * colon, no row cut short, none in quotes or with another separator.
 */
function wordsAtEnd(records: readonly CsvRecord[], columns: number): CsvRecord[] {
  const last = records.findLastIndex((record) => record.cells.length > 1 || !isBlankOrWords(record, columns));
  return records.slice(last + 1).filter(hasText);
}

function isBlankOrWords(record: CsvRecord, columns: number): boolean {
  if (!hasText(record)) return true;
  const text = record.cells[0]!.trim();
  const isWords = /\p{L}.*\s\S/u.test(text) || /^\p{L}+\s*:$/u.test(text);
  const byBlanks = text.split(/\s+/);
  // Words have blanks themselves: of a row between them numbers are the most.
  const isRowOfBlanks = isRow(byBlanks, columns) && 2 * numbersIn(byBlanks) > byBlanks.length;
  return isWords && !isRowOfBlanks && SEPARATORS.every((mark) => !isRow(text.split(mark), columns));
}

/** Whether parts of a line can be a row's cells: for half of the columns at least, two or more of them numbers. */
const isRow = (parts: readonly string[], columns: number): boolean =>
  2 * parts.length >= columns && numbersIn(parts) >= 2;

const numbersIn = (parts: readonly string[]): number =>
  parts.filter((part) => part.trim() !== "" && Number.isFinite(Number(part.replace(",", ".")))).length;

/** A record's cells, one a heading; blank ones beyond the last heading are dropped. */
function fitted(record: CsvRecord, headings: readonly string[], name: string): readonly string[] {
  const { cells, line } = record;
  const extra = cells.slice(headings.length);
  if (cells.length < headings.length || extra.some((cell) => cell.trim() !== "")) {
    throw new InputError(
      "row-length",
      `${name}, line ${line}: ${counted(cells.length, "cell")} under ${headings.length} headings`,
      "Give every row as many cells as there are headings; put a cell that holds a comma in quotes, and take out a line that is no row.",
    );
  }
  return extra.length === 0 ? cells : cells.slice(0, headings.length);
}

/** The separator that most lines have the same number of times, outside quotes; a comma when none does. */
function separatorOf(text: string): string {
  const head = text.slice(0, LOOKED_AT);
  const counts = new Map<string, number>(SEPARATORS.map((mark) => [mark, 0]));
  const lines = new Map<string, Map<number, number>>(SEPARATORS.map((mark) => [mark, new Map()]));
  let quoted = false;
  const endLine = () => {
    for (const mark of SEPARATORS) {
      const count = counts.get(mark)!;
      const byCount = lines.get(mark)!;
      if (count > 0) byCount.set(count, (byCount.get(count) ?? 0) + 1);
      counts.set(mark, 0);
    }
  };
  for (const mark of head) {
    if (mark === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (mark === "\n" || mark === "\r") endLine();
    else if (counts.has(mark)) counts.set(mark, counts.get(mark)! + 1);
  }
  endLine();
  let best = ",";
  let most = 0;
  for (const mark of SEPARATORS) {
    const agreeing = Math.max(0, ...lines.get(mark)!.values());
    if (agreeing > most) [best, most] = [mark, agreeing];
  }
  return best;
}

function noHeadings(line: number, name: string): InputError {
  return new InputError(
    "no-headings",
    `${name}, line ${line}: no headings here or below`,
    "Put the headings on a line of their own above the rows.",
  );
}

function checkedHeadings({ cells, line }: CsvRecord, name: string): string[] {
  const headings = cells.map((cell) => cell.trim());
  while (headings.length > 1 && headings.at(-1) === "") headings.pop();
  const seen = new Set<string>();
  for (const heading of headings) {
    if (heading !== "" && seen.has(heading)) {
      throw new InputError(
        "repeated-heading",
        `${name}, line ${line}: the heading "${heading}" occurs twice`,
        "Give each column its own heading.",
      );
    }
    seen.add(heading);
  }
  return headings;
}
