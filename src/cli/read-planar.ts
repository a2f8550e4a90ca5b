import { InputError, type Notice } from "../errors/index.ts";
import { readNumber, type Table } from "../formats/index.ts";
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
 * Samples in a plane from a CSV file, in file order. A row whose value is not there (blank or NA) is left out and told.
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
  return {
    samples: {
      x: numbers(used, columns.x),
      y: numbers(used, columns.y),
      value: numbers(used, columns.value),
    },
    notices,
  };
}

/** Targets in a plane, in file order. Throws as `readPlanarSamples`. */
export async function readPlanarTargets(
  path: string,
  columns: { readonly x: string; readonly y: string },
): Promise<Targets> {
  const table = await readTable(path);
  return { x: numbers(table, columns.x), y: numbers(table, columns.y) };
}

function columnOf({ headings, name }: Table, heading: string): number {
  const at = headings.indexOf(heading);
  if (at >= 0) return at;
  const known = headings.map((h) => `"${h}"`).join(", ");
  throw new InputError("no-column", `${name} has no column "${heading}"`, `It has ${known}.`);
}

function numbers(table: Table, heading: string): Float64Array<ArrayBuffer> {
  const at = columnOf(table, heading);
  return Float64Array.from(table.rows, ({ line, cells }) => {
    const value = readNumber(cells[at]!);
    if (value !== null) return value;
    throw new InputError(
      "not-a-number",
      `${table.name}, line ${line}: "${cells[at]}" under ${heading} is no number`,
      "Write digits with a decimal point, or leave the row out.",
    );
  });
}
