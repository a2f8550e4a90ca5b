import { isDay } from "../formats/index.ts";
import type { SampleFile } from "./sample-file.ts";

/**
 * First and last day in a column of dates, `YYYY-MM-DD`: written year first, or with slashes where some day above 12
 * tells the month from the day. Null when there is no such column or its dates cannot be told.
 */
export function readDates(file: SampleFile, column: number | undefined): readonly [string, string] | null {
  if (column === undefined) return null;
  const texts = file.rows.map((row) => (row.cells[column] ?? "").trim()).filter((text) => text !== "");
  const parts = texts.map((text) =>
    /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[ T].*)?$/.exec(text)?.slice(1, 4).map(Number),
  );
  if (parts.length === 0 || parts.some((found) => found === undefined)) return null;
  const numbers = parts as [number, number, number][];
  const monthFirst = numbers.some(([, second]) => second > 12);
  const dayFirst = numbers.some(([first]) => first > 12 && first <= 31);
  const days = numbers.map(([first, second, third]) => {
    if (first > 31) return [first, second, third] as const;
    if (monthFirst === dayFirst) return null;
    return monthFirst ? ([third, first, second] as const) : ([third, second, first] as const);
  });
  if (days.some((day) => day === null || !isDay(...day))) return null;
  const written = days.map((day) => {
    const [year, month, dayOfMonth] = day!;
    return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(dayOfMonth).padStart(2, "0")}`;
  });
  written.sort();
  return [written[0]!, written.at(-1)!];
}
