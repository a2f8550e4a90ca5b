import { InputError, type Notice } from "../errors/index.ts";
import { csvRecords } from "./csv-records.ts";
import { readText } from "./read-text.ts";

export interface TableRow {
  /** Line of the file on which the row begins, from 1; the heading row and blank lines count. */
  readonly line: number;
  /** One a heading, as they stand in the file, not trimmed. */
  readonly cells: readonly string[];
}

export interface Table {
  readonly name: string;
  /** Trimmed. A heading may be blank, but no other may occur twice. */
  readonly headings: readonly string[];
  readonly rows: readonly TableRow[];
  readonly encoding: string;
  readonly notices: readonly Notice[];
}

/**
 * A comma-separated table with one heading row (RFC 4180); `name` is the file's name for messages.
 * Rows without any text are left out with a notice (blank lines at the end without one).
 * Throws `empty-file`, `no-rows`, `repeated-heading`, `row-length` and the errors of `csvRecords`.
 */
export function readCsv(bytes: Uint8Array, name: string): Table {
  const { text, encoding } = readText(bytes);
  const [first, ...rest] = csvRecords(text, ",", name);
  if (first === undefined || text.trim() === "") {
    throw new InputError("empty-file", `${name} is empty`, "Choose the file with the table.");
  }
  const headings = checkedHeadings(first.cells, first.line, name);
  const rows: TableRow[] = [];
  const blankLines: number[] = [];
  for (const record of rest) {
    if (record.cells.every((cell) => cell.trim() === "")) {
      blankLines.push(record.line);
      continue;
    }
    if (record.cells.length !== headings.length) {
      throw new InputError(
        "row-length",
        `${name}, line ${record.line}: ${record.cells.length} cells under ${headings.length} headings`,
        "Give every row as many cells as there are headings; put a cell that holds a comma in quotes.",
      );
    }
    rows.push(record);
  }
  const lastLine = rows.at(-1)?.line;
  if (lastLine === undefined) {
    throw new InputError("no-rows", `${name} has headings and no rows`, "Add the rows below the headings.");
  }
  const left = blankLines.filter((line) => line < lastLine);
  const notices: Notice[] = [];
  if (left.length > 0) {
    const lines = `${left.length === 1 ? "line" : "lines"} ${left.join(", ")}`;
    notices.push({ code: "blank-rows", message: `${lines} left out: no text in any cell`, where: name });
  }
  return { name, headings, rows, encoding, notices };
}

function checkedHeadings(cells: readonly string[], line: number, name: string): string[] {
  const headings = cells.map((cell) => cell.trim());
  if (headings.every((heading) => heading === "")) {
    throw new InputError(
      "no-headings",
      `${name}, line ${line}: the first line has no headings`,
      "Put the headings on the first line.",
    );
  }
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
