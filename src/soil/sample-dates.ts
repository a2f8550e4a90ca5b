import type { Notice, Question } from "../errors/index.ts";
import { type FileAnswers, isDay } from "../formats/index.ts";
import type { SampleFile } from "./sample-types.ts";

const ORDERS = ["month-first", "day-first"] as const;
type DateOrder = (typeof ORDERS)[number];

interface SettledDates {
  /** First and last day, `YYYY-MM-DD`; null without a column of dates, or where one of them is not read. */
  readonly dates: readonly [first: string, last: string] | null;
  /** What stands where a day should and is not read, each once. */
  readonly unread: readonly string[];
  readonly notices: readonly Notice[];
}

/**
 * The days of a column of dates. Where month and day cannot be told apart they are the question `date-order`; what is no
 * readable day is named in a notice.
 */
export function settleDates(
  file: SampleFile,
  column: number | undefined,
  answers: FileAnswers,
  questions: Question[],
): SettledDates {
  const none = { dates: null, unread: [], notices: [] };
  if (column === undefined) return none;
  const texts = file.rows.map((row) => (row.cells[column] ?? "").trim()).filter((text) => text !== "");
  const read = daysOf(texts, answers);
  const heading = file.headings[column];
  const unread = [...new Set(texts.filter((_, i) => read[i] === null))];
  const doubtful = unread.filter((text) => isEitherWay(text));
  if (doubtful.length > 0 && orderOf(texts.map(partsOf)) === "either") {
    const answer = answers["date-order"];
    const wrong = answer === undefined ? "" : ` “${answer}” is not one of the choices.`;
    const text = `Dates with the month first or the day first?${wrong}`;
    const seen = `${file.name}, column “${heading}”: ${doubtful.slice(0, 3).join(", ")}`;
    questions.push({ key: "date-order", text, choices: ORDERS, seen });
    return { ...none, unread };
  }
  const rows = texts.filter((_, i) => read[i] === null).length;
  const shown = unread.slice(0, 3).map((text) => `“${text}”`);
  const more = unread.length > shown.length ? ` and ${unread.length - shown.length} more` : "";
  const message = `${file.name}, column “${heading}”: ${shown.join(", ")}${more} (${rows} ${rows === 1 ? "row" : "rows"}) not read as a date; write year, month, day, such as 2026-11-03.`;
  const notices = unread.length === 0 ? [] : [{ code: "date-not-read", message, where: file.name }];
  const days = read.filter((day) => day !== null).sort();
  const dates = days.length === 0 || unread.length > 0 ? null : ([days[0]!, days.at(-1)!] as const);
  return { dates, unread, notices };
}

/**
 * Days of a column as `YYYY-MM-DD`: written year first, or with slash, dot or hyphen where some number above 12 in the
 * column tells the month from the day, or the answer `date-order` does. Null where a day cannot be told.
 */
export function daysOf(texts: readonly string[], answers: FileAnswers = {}): (string | null)[] {
  const parts = texts.map(partsOf);
  const told = orderOf(parts);
  const order = told === "either" ? ORDERS.find((one) => one === answers["date-order"]) : told;
  return parts.map((one) => {
    if (one === undefined) return null;
    const [first, second, third] = one;
    if (first > 31) return written(first, second, third);
    if (first === second) return written(third, first, second);
    if (order === undefined || order === "both") return null;
    return order === "month-first" ? written(third, first, second) : written(third, second, first);
  });
}

type Parts = readonly [number, number, number];

function partsOf(text: string): Parts | undefined {
  const found = /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[ T].*)?$/.exec(text.trim());
  return found?.slice(1, 4).map(Number) as unknown as Parts | undefined;
}

/** Which order the numbers above 12 of a column tell; `either` without any, `both` where they contradict each other. */
function orderOf(parts: readonly (Parts | undefined)[]): DateOrder | "either" | "both" {
  const short = parts.filter((one) => one !== undefined).filter(([first]) => first <= 31);
  const monthFirst = short.some(([, second]) => second > 12);
  const dayFirst = short.some(([first]) => first > 12);
  if (monthFirst === dayFirst) return monthFirst ? "both" : "either";
  return monthFirst ? "month-first" : "day-first";
}

/** Whether a text is one day with the month first and another with the day first. */
function isEitherWay(text: string): boolean {
  const parts = partsOf(text);
  if (parts === undefined || parts[0] > 31) return false;
  const [first, second, third] = parts;
  return written(third, first, second) !== null && written(third, second, first) !== null;
}

/** A year of two digits, or of another age, tells no day. */
function written(year: number, month: number, day: number): string | null {
  if (year < 1900 || year > 2200 || !isDay(year, month, day)) return null;
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${year}-${two(month)}-${two(day)}`;
}
