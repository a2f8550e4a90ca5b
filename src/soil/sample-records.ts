import { readHeading } from "./lab-heading.ts";

/** What a row of a lab table says besides P, K and CEC; null where it says nothing readable. */
export interface SampleRecord {
  readonly pH: number | null;
  readonly bufferPH: number | null;
  /** Percent. */
  readonly organicMatter: number | null;
  /** YYYY-MM-DD. */
  readonly date: string | null;
  readonly lab: string | null;
}

/** A table of text as far as it is needed here. */
export interface RecordTable {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

const DATE_HEADINGS = ["date", "sampledate", "datesampled", "sampledon", "datecollected", "collected"];
const LAB_HEADINGS = ["lab", "labname", "laboratory"];

/**
 * pH, buffer pH, organic matter, date and laboratory by the line of a row. They are shown and never change a rate, so
 * what cannot be read is left out and nothing is asked. Of several date columns the first counts.
 */
export function sampleRecords(table: RecordTable): ReadonlyMap<number, SampleRecord> {
  const headings = table.headings.map(readHeading);
  const plain = table.headings.map((heading) => heading.toLowerCase().replaceAll(/[^a-z]/g, ""));
  const named = (names: readonly string[]) => plain.findIndex((heading) => names.includes(heading));
  const meant = (means: string) => headings.find((heading) => heading.means === means)?.column ?? -1;
  const columns = { pH: meant("pH"), bufferPH: meant("bufferPH"), organicMatter: meant("OM") };
  const [dateColumn, labColumn] = [named(DATE_HEADINGS), named(LAB_HEADINGS)];
  const dates = readDates(table.rows.map((row) => row.cells[dateColumn]?.trim() ?? ""));
  return new Map(
    table.rows.map(({ line, cells }, i) => {
      const number = (column: number) => readNumberOrNull(cells[column]);
      const record: SampleRecord = {
        pH: number(columns.pH),
        bufferPH: number(columns.bufferPH),
        organicMatter: number(columns.organicMatter),
        date: dates[i]!,
        lab: cells[labColumn]?.trim() || null,
      };
      return [line, record];
    }),
  );
}

const readNumberOrNull = (text: string | undefined): number | null =>
  text !== undefined && /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : null;

/**
 * Days as YYYY-MM-DD: written year first, or with a slash, dot or hyphen where some number above 12 in the column tells
 * month from day. Null where it cannot be told.
 */
function readDates(texts: readonly string[]): (string | null)[] {
  const parts = texts.map((text) => {
    const read = /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[ T].*)?$/.exec(text);
    return read ? [Number(read[1]), Number(read[2]), Number(read[3])] : null;
  });
  const short = parts.filter((one) => one !== null && one[0]! <= 31);
  const monthFirst = short.some((one) => one![1]! > 12);
  const dayFirst = short.some((one) => one![0]! > 12);
  return parts.map((one) => {
    if (one === null) return null;
    const [first, second, third] = one as [number, number, number];
    if (first > 31) return asDay(first, second, third);
    if (monthFirst === dayFirst) return null;
    return monthFirst ? asDay(third, first, second) : asDay(third, second, first);
  });
}

function asDay(year: number, month: number, day: number): string | null {
  if (year < 1900 || year > 2200 || month < 1 || month > 12 || day < 1 || day > 31) return null;
  const two = (value: number) => String(value).padStart(2, "0");
  return `${year}-${two(month)}-${two(day)}`;
}
