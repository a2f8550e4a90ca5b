import { InputError, type Notice } from "../errors/index.ts";
import { isDay } from "./calendar-date.ts";
import { dbfDecoder } from "./dbf-encoding.ts";
import type { Column, Properties, Value } from "./feature.ts";
import { readNumber } from "./read-number.ts";

export interface DbfTable {
  readonly columns: readonly Column[];
  /** One a row, in file order; null for a row marked deleted. */
  readonly rows: readonly (Properties | null)[];
  readonly encoding: string;
  readonly notices: readonly Notice[];
}

interface Field {
  readonly name: string;
  readonly type: string;
  /** Byte of the row where it begins; byte 0 is the deletion mark. */
  readonly start: number;
  readonly width: number;
}

const KINDS: Readonly<Record<string, Column["kind"]>> = {
  C: "text",
  N: "number",
  F: "number",
  D: "date",
  L: "boolean",
};

/**
 * The attribute table of a shapefile (dBASE III). Texts are trimmed; blanks, stars and `?` are null; a date
 * becomes `YYYY-MM-DD`. Columns of other types are left out with a notice; a number or date that cannot be
 * read is null with a notice. Throws `not-a-dbf`, `file-cut-short`.
 */
export function readDbf(dbf: Uint8Array, cpg: Uint8Array | undefined, path: string): DbfTable {
  const view = new DataView(dbf.buffer, dbf.byteOffset, dbf.byteLength);
  const headerLength = dbf.length >= 32 ? view.getUint16(8, true) : 0;
  if (headerLength < 33 || headerLength > dbf.length) throw notDbf(path, "the header does not fit the file");
  const count = view.getUint32(4, true);
  const rowLength = view.getUint16(10, true);
  const { decode, encoding, notices: encodingNotices } = dbfDecoder(dbf, cpg, path);
  const notices: Notice[] = [...encodingNotices];
  const fields = readFields(dbf, headerLength, decode, path, notices);
  const end = fields.reduce((most, field) => Math.max(most, field.start + field.width), 1);
  if (rowLength < end) throw notDbf(path, `rows of ${rowLength} bytes cannot hold the columns`);
  if (headerLength + count * rowLength > dbf.length) {
    const has = Math.floor((dbf.length - headerLength) / rowLength);
    const message = `${path} says it has ${count} rows and has ${has}`;
    throw new InputError("file-cut-short", message, "Copy or export the shapefile again.");
  }
  const known = fields.filter((field) => KINDS[field.type] !== undefined);
  const rows = Array.from({ length: count }, (_, index): Properties | null => {
    const row = dbf.subarray(headerLength + index * rowLength, headerLength + (index + 1) * rowLength);
    if (row[0] === 0x2a) return null;
    return Object.fromEntries(
      known.map((field) => {
        const text = decode(row.subarray(field.start, field.start + field.width));
        return [field.name, readValue(field, text, `${path}, record ${index + 1}`, notices)];
      }),
    );
  });
  const columns = known.map(({ name, type }): Column => ({ name, kind: KINDS[type] ?? "mixed" }));
  return { columns, rows, encoding, notices };
}

function readFields(
  dbf: Uint8Array,
  headerLength: number,
  decode: (bytes: Uint8Array) => string,
  path: string,
  notices: Notice[],
): Field[] {
  const fields: Field[] = [];
  const names = new Set<string>();
  let start = 1;
  let at = 32;
  for (; at + 32 < headerLength && dbf[at] !== 0x0d; at += 32) {
    const raw = dbf.subarray(at, at + 11);
    const zero = raw.indexOf(0);
    const stated = decode(zero < 0 ? raw : raw.subarray(0, zero)).trim() || `COLUMN_${fields.length + 1}`;
    let name = stated;
    for (let copy = 2; names.has(name); copy += 1) name = `${stated}_${copy}`;
    if (name !== stated) {
      const message = `the column ${stated} occurs more than once; the later one is read as ${name}`;
      notices.push({ code: "repeated-column", message, where: path });
    }
    names.add(name);
    const type = String.fromCharCode(dbf[at + 11] ?? 0);
    const width = dbf[at + 16] ?? 0;
    if (KINDS[type] === undefined) {
      const message = `the column ${name} has type ${JSON.stringify(type)} and was left out`;
      notices.push({ code: "column-not-read", message, where: path });
    }
    fields.push({ name, type, start, width });
    start += width;
  }
  if (dbf[at] !== 0x0d) throw notDbf(path, "the list of columns has no end");
  return fields;
}

function readValue(field: Field, raw: string, where: string, notices: Notice[]): Value {
  const text = raw.replaceAll("\0", " ").trim();
  if (text === "") return null;
  if (field.type === "C") return text;
  if (/^\*+$/.test(text)) return null;
  const value = field.type === "L" ? readFlag(text) : field.type === "D" ? readDay(text) : readNumber(text);
  const isNumber = field.type === "N" || field.type === "F";
  if (value === undefined || (value === null && isNumber)) {
    const message = `${field.name} is "${text}", which cannot be read; it counts as no value`;
    notices.push({ code: "unreadable-value", message, where });
    return null;
  }
  return value;
}

function readFlag(text: string): boolean | null | undefined {
  if (/^[yt]$/i.test(text)) return true;
  if (/^[nf]$/i.test(text)) return false;
  return text === "?" ? null : undefined;
}

function readDay(text: string): string | null | undefined {
  if (/^0+$/.test(text)) return null;
  const match = /^(\d{4})(\d{2})(\d{2})$/.exec(text);
  if (match === null || !isDay(Number(match[1]), Number(match[2]), Number(match[3]))) return undefined;
  return `${match[1]}-${match[2]}-${match[3]}`;
}

function notDbf(path: string, what: string): InputError {
  return new InputError("not-a-dbf", `${path}: ${what}`, "Copy or export the shapefile again.");
}
