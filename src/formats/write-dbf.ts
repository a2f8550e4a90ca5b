import { InputError } from "../errors/index.ts";
import { calendarDate } from "./calendar-date.ts";
import type { Properties, Value } from "./feature.ts";
import { LARGEST_PART } from "./shapefile-parts.ts";

/** A column of a .dbf. Names: letter first, then letters, digits, underscores; 10 characters at most. */
export type DbfColumn =
  | { readonly name: string; readonly type: "N"; readonly width: number; readonly decimals: number }
  | { readonly name: string; readonly type: "C"; readonly width: number };

/**
 * A dBASE III table, a row a record, in order; `date` (`YYYY-MM-DD`) goes into its header, `path` into messages.
 * Numbers are rounded to the column's decimals. Texts are plain ASCII; null is an empty text.
 * Throws `value-too-wide` (a number or text that does not fit: nothing is ever cut) and `text-not-ascii`, each
 * naming record, column and value; a plain Error on a number that is missing or not finite, and on columns that
 * cannot be written.
 */
export function writeDbf(
  rows: readonly Properties[],
  columns: readonly DbfColumn[],
  date: string,
  path: string,
): Uint8Array<ArrayBuffer> {
  checkColumns(columns);
  const { year, month, day } = calendarDate(date);
  if (year < 1900 || year > 2155) throw new Error(`a .dbf cannot carry the year ${year}`);
  const headerLength = 33 + 32 * columns.length;
  const rowLength = columns.reduce((sum, column) => sum + column.width, 1);
  const total = headerLength + rows.length * rowLength + 1;
  if (total > LARGEST_PART) throw new Error(`a .dbf of ${total} bytes is too big`);
  const dbf = new Uint8Array(total);
  const view = new DataView(dbf.buffer);
  dbf.set([3, year - 1900, month, day]);
  view.setUint32(4, rows.length, true);
  view.setUint16(8, headerLength, true);
  view.setUint16(10, rowLength, true);
  columns.forEach((column, i) => {
    const at = 32 + 32 * i;
    putAscii(dbf, at, column.name);
    putAscii(dbf, at + 11, column.type);
    dbf[at + 16] = column.width;
    dbf[at + 17] = column.type === "N" ? column.decimals : 0;
  });
  dbf[headerLength - 1] = 0x0d;
  dbf.fill(0x20, headerLength, total - 1);
  rows.forEach((row, i) => {
    let at = headerLength + i * rowLength + 1;
    for (const column of columns) {
      const text = cellText(row[column.name], column, `${path}, record ${i + 1}`);
      putAscii(dbf, column.type === "N" ? at + column.width - text.length : at, text);
      at += column.width;
    }
  });
  dbf[total - 1] = 0x1a;
  return dbf;
}

function cellText(value: Value | undefined, column: DbfColumn, where: string): string {
  if (column.type === "N") {
    if (typeof value !== "number" || !Number.isFinite(value)) {
      throw new Error(`${where}: ${column.name} is ${String(value)}, not a number`);
    }
    const fixed = value.toFixed(column.decimals);
    const text = Number(fixed) === 0 ? fixed.replace("-", "") : fixed;
    return fitted(text, value, column, where);
  }
  const text = value === null ? "" : value;
  if (typeof text !== "string") throw new Error(`${where}: ${column.name} is ${String(value)}, not a text`);
  if (!/^[\x20-\x7e]*$/.test(text)) {
    throw new InputError(
      "text-not-ascii",
      `${where}: ${column.name} "${text}" has characters that not every controller can show`,
      "Use plain letters, digits and signs.",
    );
  }
  return fitted(text, text, column, where);
}

function fitted(text: string, value: string | number, column: DbfColumn, where: string): string {
  const exponent = column.type === "N" && text.includes("e"); // how toFixed shows 1e21 and more
  if (text.length <= column.width && !exponent) return text;
  throw new InputError(
    "value-too-wide",
    `${where}: ${column.name} ${JSON.stringify(value)} does not fit into ${column.width} characters`,
    column.type === "N" ? "Check the value; it is too large." : "Shorten the text.",
  );
}

function checkColumns(columns: readonly DbfColumn[]): void {
  const names = new Set<string>();
  for (const column of columns) {
    if (!/^[A-Za-z][A-Za-z0-9_]{0,9}$/.test(column.name))
      throw new Error(`"${column.name}" cannot be a column`);
    if (names.has(column.name.toUpperCase())) throw new Error(`the column ${column.name} occurs twice`);
    names.add(column.name.toUpperCase());
    const widest = column.type === "N" ? 19 : 254;
    const decimals = column.type === "N" ? column.decimals : 0;
    const fits =
      column.width >= 1 && column.width <= widest && (decimals === 0 || decimals <= column.width - 2);
    if (!fits || decimals < 0)
      throw new Error(`${column.name} cannot be ${column.width} wide, ${decimals} decimals`);
  }
  if (columns.length === 0 || columns.length > 128) throw new Error(`${columns.length} columns`);
}

function putAscii(bytes: Uint8Array, at: number, text: string): void {
  for (let i = 0; i < text.length; i += 1) bytes[at + i] = text.charCodeAt(i);
}
