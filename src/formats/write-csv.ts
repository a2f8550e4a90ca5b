import type { Value } from "./feature.ts";
import { readNumber } from "./read-number.ts";

const RUN_AS_FORMULA = /^[=+\-@\t\r]/;

/**
 * A table by RFC 4180: comma, CR LF, UTF-8 without a mark, in the order given.
 * Null is an empty cell; numbers are written in the shortest form that reads back the same.
 * A text that a spreadsheet could run as a formula (first character = + - @, tab or carriage return) gets a
 * leading apostrophe; a text that is a plain number, such as "-5.00", does not.
 * Throws a plain Error on a row of another length and on NaN or infinite numbers.
 */
export function writeCsv(
  headings: readonly string[],
  rows: readonly (readonly Value[])[],
): Uint8Array<ArrayBuffer> {
  const lines = [headings, ...rows].map((row, index) => {
    if (row.length !== headings.length) {
      throw new Error(`row ${index} has ${row.length} cells under ${headings.length} headings`);
    }
    const line = row.map(cellText).join(",");
    return line === "" ? '""' : line; // one empty cell; a bare line break would read as a blank line
  });
  return new TextEncoder().encode(`${lines.join("\r\n")}\r\n`);
}

function cellText(value: Value): string {
  if (value === null) return "";
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`${value} has no place in a table`);
    return String(value);
  }
  const text = String(value);
  const guarded = RUN_AS_FORMULA.test(text) && readNumber(text) === null ? `'${text}` : text;
  return /[",\r\n]/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}
