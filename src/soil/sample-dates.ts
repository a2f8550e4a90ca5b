import { isDay } from "../formats/index.ts";
import type { SampleFile } from "./sample-file.ts";

/**
 * First and last day in a column of dates, `YYYY-MM-DD`. Null when there is no such column or one of its dates cannot be
 * told.
 */
export function readDates(file: SampleFile, column: number | undefined): readonly [string, string] | null {
  if (column === undefined) return null;
  const texts = file.rows.map((row) => (row.cells[column] ?? "").trim()).filter((text) => text !== "");
  const days = daysOf(texts).filter((day) => day !== null);
  if (days.length === 0 || days.length < texts.length) return null;
  days.sort();
  return [days[0]!, days.at(-1)!];
}

/**
 * Days of a column as `YYYY-MM-DD`: written year first, or with slash, dot or hyphen where some number above 12 in the
 * column tells the month from the day. Null where a day cannot be told.
 */
export function daysOf(texts: readonly string[]): (string | null)[] {
  const parts = texts.map((text) =>
    /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[ T].*)?$/.exec(text.trim())?.slice(1, 4).map(Number),
  );
  const short = parts.filter((one) => one !== undefined && one[0]! <= 31);
  const monthFirst = short.some((one) => one![1]! > 12);
  const dayFirst = short.some((one) => one![0]! > 12);
  return parts.map((one) => {
    if (one === undefined) return null;
    const [first, second, third] = one as [number, number, number];
    if (first > 31) return written(first, second, third);
    if (monthFirst === dayFirst) return null;
    return monthFirst ? written(third, first, second) : written(third, second, first);
  });
}

/** A year of two digits, or of another age, tells no day. */
function written(year: number, month: number, day: number): string | null {
  if (year < 1900 || year > 2200 || !isDay(year, month, day)) return null;
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${year}-${two(month)}-${two(day)}`;
}
