import { type FileAnswers, isMissingMark, numberMarks } from "../formats/index.ts";
import { readHeadings } from "./chosen-columns.ts";
import { readHeading } from "./lab-heading.ts";
import { isLongTable } from "./long-table.ts";
import { mendRows } from "./mend-rows.ts";
import { daysOf } from "./sample-dates.ts";
import type { ChosenColumns, LabHeading, LabMeaning } from "./sample-types.ts";
import { possiblePH } from "./soil-ph.ts";

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
interface RecordTable {
  /** As answers that mend its cells name it. */
  readonly name?: string;
  readonly chosen?: ChosenColumns | null;
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

const LAB_HEADINGS = ["lab", "labname", "laboratory"];

/**
 * pH, buffer pH, organic matter, date and laboratory by the line of a row. They are shown and never change a rate, so
 * what cannot be read is left out and nothing is asked. Decimal commas count as such where no number of these columns has
 * a point; marks of the file that were settled for its tests are not needed for it. Of several date columns the first counts; the answer `date-order` tells its months from its days.
 */
export function sampleRecords(
  asFound: RecordTable,
  answers: FileAnswers = {},
): ReadonlyMap<number, SampleRecord> {
  const { file: table } = mendRows({ name: "", ...asFound }, answers);
  return isLongTable(table)
    ? longRecords(table, readHeadings(table), answers)
    : sampleRecordsOf(table, answers);
}

/** Row by row. */
function sampleRecordsOf(table: RecordTable, answers: FileAnswers): ReadonlyMap<number, SampleRecord> {
  const headings = readHeadings(table);
  const plain = table.headings.map((heading) => heading.toLowerCase().replaceAll(/[^a-z]/g, ""));
  const named = (names: readonly string[]) => plain.findIndex((heading) => names.includes(heading));
  const meant = (means: string) => headings.find((heading) => heading.means === means)?.column ?? -1;
  const columns = { pH: meant("pH"), bufferPH: meant("bufferPH"), organicMatter: meant("OM") };
  const [dateColumn, labColumn] = [meant("date"), named(LAB_HEADINGS)];
  const read = numberReader(table.rows.flatMap(({ cells }) => Object.values(columns).map((at) => cells[at])));
  const dates = daysOf(
    table.rows.map((row) => row.cells[dateColumn] ?? ""),
    answers,
  );
  return new Map(
    table.rows.map(({ line, cells }, i) => {
      const number = (column: number) => read(cells[column]);
      const record: SampleRecord = {
        pH: possiblePH(number(columns.pH)),
        bufferPH: number(columns.bufferPH),
        organicMatter: number(columns.organicMatter),
        date: dates[i]!,
        lab: cells[labColumn]?.trim() || null,
      };
      return [line, record];
    }),
  );
}

/** Of a table with one row a test: what the rows of a sample say together, by the line of each of them. */
function longRecords(
  table: RecordTable,
  headings: readonly LabHeading[],
  answers: FileAnswers,
): ReadonlyMap<number, SampleRecord> {
  const column = (means: LabMeaning) => headings.find((heading) => heading.means === means)?.column ?? -1;
  const keys = (["field", "sample", "labNumber", "longitude", "latitude"] as const).map(column);
  const [analyte, value] = [column("analyte"), column("value")];
  const top = [column("depthTop"), column("depth")].find((at) => at >= 0) ?? -1;
  const perRow = sampleRecordsOf(table, answers);
  const read = numberReader(table.rows.map(({ cells }) => cells[value]));
  const groups = new Map<string, { line: number; cells: readonly string[] }[]>();
  for (const row of table.rows) {
    const key = JSON.stringify(keys.map((at) => row.cells[at]?.trim() ?? ""));
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const found = new Map<number, SampleRecord>();
  for (const rows of groups.values()) {
    // Of several depths the one from the surface.
    const fromTop = rows.toSorted((a, b) => Number(isDeep(a.cells[top])) - Number(isDeep(b.cells[top])));
    const of = (means: LabMeaning): number | null => {
      const row = fromTop.find(
        ({ cells }) => readHeading(cells[analyte] ?? "", 0).means === means && read(cells[value]) !== null,
      );
      return row ? read(row.cells[value]) : null;
    };
    const own = rows.map(({ line }) => perRow.get(line)!);
    const record: SampleRecord = {
      ...{ pH: possiblePH(of("pH")), bufferPH: of("bufferPH"), organicMatter: of("OM") },
      date: own.find(({ date }) => date !== null)?.date ?? null,
      lab: own.find(({ lab }) => lab !== null)?.lab ?? null,
    };
    for (const { line } of rows) found.set(line, record);
  }
  return found;
}

/** Whether a core begins below the surface. */
const isDeep = (depth: string | undefined): boolean => Number.parseFloat(depth ?? "") > 0;

/**
 * The number of a cell, null for none and for one that is doubtful: a comma is decimal where all of them can be and no
 * number has a point.
 */
function numberReader(texts: readonly (string | undefined)[]): (text: string | undefined) => number | null {
  const cells = texts.map((text) => ({ text: text ?? "", where: "" }));
  const marks = numberMarks(cells, "", {});
  return (text) => {
    if (text === undefined || isMissingMark(text)) return null;
    const value = marks.questions.length > 0 && text.includes(",") ? null : marks.read(text);
    return typeof value === "number" && value >= 0 ? value : null;
  };
}
