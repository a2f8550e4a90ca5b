import { InputError, type Notice } from "../errors/index.ts";
import { type NumberMarks, numberMarks, readNumber, type Table } from "../formats/index.ts";
import type { Samples, Targets } from "../interpolate/index.ts";
import { readTable } from "./read-table.ts";

interface PlanarSamples {
  readonly samples: Samples;
  /** What was left out. */
  readonly notices: readonly Pick<Notice, "message">[];
}

/** Cells that say "not measured". */
const MISSING = new Set(["", "na", "n/a", "nan", "null", "-", "."]);

/**
 * Samples in a plane from a CSV file, in file order. A row whose value is not there (blank or NA) is left out and told;
 * `<5` and `>800` are read as of any lab table, half of the one and the other itself, and told with how many there are.
 * Throws `no-column`, `not-a-number` with the line, and the errors of reading.
 */
export async function readPlanarSamples(
  path: string,
  columns: { readonly x: string; readonly y: string; readonly value: string },
): Promise<PlanarSamples> {
  const table = await readTable(path);
  const at = columnOf(table, columns.value);
  const kept = table.rows.filter((row) => !MISSING.has(row.cells[at]!.trim().toLowerCase()));
  const lines = table.rows.filter((row) => !kept.includes(row)).map((row) => row.line);
  const notices = table.notices.map(({ where, message }) => ({ message: `${where}: ${message}` }));
  if (lines.length > 0) {
    const which = `${lines.length === 1 ? "line" : "lines"} ${lines.join(", ")}`;
    notices.push({ message: `${table.name}: ${which} left out: no value of ${columns.value}` });
  }
  const used = { ...table, rows: kept };
  const marks = marksOf(used, [columns.x, columns.y, columns.value]);
  notices.push(...marks.notices.map(({ where, message }) => ({ message: `${where}: ${message}` })));
  const bounds = kept.map((row) => row.cells[at]!.trim()).filter((cell) => BOUND.test(cell));
  if (bounds.length > 0) {
    const shown = [...new Set(bounds)].slice(0, 4).map((cell) => `“${cell}” as ${boundUsed(cell, marks)}`);
    const are = bounds.length === 1 ? "value is" : "values are";
    const message = `${table.name}: ${bounds.length} ${are} outside what the lab can see: ${shown.join(", ")}`;
    notices.push({ message });
  }
  return {
    samples: {
      x: numbers(used, columns.x, marks),
      y: numbers(used, columns.y, marks),
      value: numbers(used, columns.value, marks, boundUsed),
    },
    notices,
  };
}

/** A value that a lab gives by its limit alone: `<5`, `>800`. */
const BOUND = /^[<>]/;

/** What is taken for it: half of a lower limit, an upper limit itself; null where no number stands behind it. */
function boundUsed(cell: string, marks: NumberMarks): number | null {
  const limit = marks.read(cell.slice(1));
  if (typeof limit !== "number") return null;
  return cell.startsWith("<") ? limit / 2 : limit;
}

/** How the numbers of some columns are written; where that is doubtful they are plain numbers or refused. */
function marksOf(table: Table, headings: readonly string[]): NumberMarks {
  const cells = headings.flatMap((heading) => {
    const at = columnOf(table, heading);
    return table.rows.map(({ line, cells }) => ({
      text: cells[at]!,
      where: `line ${line}, column ${heading}`,
    }));
  });
  const marks = numberMarks(cells, table.name, {});
  return marks.questions.length === 0 ? marks : { read: readNumber, questions: [], notices: [] };
}

/** Targets in a plane, in file order. Throws as `readPlanarSamples`. */
export async function readPlanarTargets(
  path: string,
  columns: { readonly x: string; readonly y: string },
): Promise<Targets> {
  const table = await readTable(path);
  const marks = marksOf(table, [columns.x, columns.y]);
  return { x: numbers(table, columns.x, marks), y: numbers(table, columns.y, marks) };
}

function columnOf({ headings, name }: Table, heading: string): number {
  const at = headings.indexOf(heading);
  if (at >= 0) return at;
  const known = headings.map((h) => `"${h}"`).join(", ");
  throw new InputError("no-column", `${name} has no column "${heading}"`, `It has ${known}.`);
}

function numbers(
  table: Table,
  heading: string,
  marks: NumberMarks,
  ofBound: (cell: string, marks: NumberMarks) => number | null = () => null,
): Float64Array<ArrayBuffer> {
  const at = columnOf(table, heading);
  return Float64Array.from(table.rows, ({ line, cells }) => {
    const cell = cells[at]!.trim();
    const value = BOUND.test(cell) ? ofBound(cell, marks) : marks.read(cell);
    if (typeof value === "number") return value;
    throw new InputError(
      "not-a-number",
      `${table.name}, line ${line}: "${cells[at]}" under ${heading} is no number`,
      "Write digits with a decimal point, or leave the row out.",
    );
  });
}
