import { InputError, type Notice, type Question } from "../errors/index.ts";
import {
  type CoordinateSystemFrom,
  type FileAnswers,
  type NumberCell,
  numberMarks,
  type Skipped,
} from "../formats/index.ts";
import type { Point } from "../geo/index.ts";
import { bufferDoubts } from "./buffer-ph.ts";
import { cecNotices, inMeq, settleCec } from "./cec-column.ts";
import { besideTest, readHeadings, unusedOf } from "./chosen-columns.ts";
import { isFurrowSlice } from "./depth.ts";
import { takeDepthColumns } from "./depth-columns.ts";
import { foreignExtractant } from "./foreign-extractant.ts";
import type { LabWants } from "./lab-wants.ts";
import { locateRows, zoneHeading } from "./locate-rows.ts";
import { isLongTable, pivotLongTable } from "./long-table.ts";
import { mendRows } from "./mend-rows.ts";
import { repeatedIds } from "./repeated-ids.ts";
import { mergeSamePlace } from "./same-place.ts";
import { settleDates } from "./sample-dates.ts";
import { sampleRecords } from "./sample-records.ts";
import type { LabHeading, LabMeaning, SampleFile, SampleRow } from "./sample-types.ts";
import { depthDoubt, settleDepth } from "./settle-depth.ts";
import { OXIDE_PER_ELEMENT, PPM_PER, settleTest } from "./settle-test.ts";
import { settleValues } from "./settle-values.ts";
import { phDoubts } from "./soil-ph.ts";
import type { SoilSample, SoilTest, TestReading } from "./soil-sample.ts";

/** A lab table as read. While `questions` is not empty, `samples` is empty. */
export interface LabTable {
  readonly samples: readonly SoilSample[];
  readonly tests: Readonly<Partial<Record<SoilTest, TestReading>>>;
  /** Sampling depth as stated, such as `0-8in`. */
  readonly depth: string;
  /** Headings that nothing was taken from; of a table with one row a test also the tests that were passed over. */
  readonly unused: readonly string[];
  /** Rows left out, repeats among them. */
  readonly skipped: readonly Skipped[];
  /** How many values lay outside what the lab can see and were used all the same. */
  readonly censored: number;
  /** Results of other depths that were left aside. */
  readonly setAside: number;
  /** First and last day of sampling, `YYYY-MM-DD`; null where the file gives none that can be told. */
  readonly dates: readonly [first: string, last: string] | null;
  /** What stands where a day of sampling should and is not read. */
  readonly unreadDates: readonly string[];
  readonly coordinateSystem: string;
  readonly coordinateSystemFrom: CoordinateSystemFrom;
  readonly encoding: string;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

/**
 * Read soil samples from a lab's table, one row a sample or one row a test. Unit, extractant, oxide or element and depth
 * come from headings, columns or answers, else they are questions; none is guessed. Questions: `unit.P`, `method.P`,
 * `unit.K`, `method.K`, `unit.CEC`, `oxide`, `depth`, `limit.P`, `limit.K`, `unreadable-value`, `decimal-comma`, `date-order`,
 * `same-place`, `join-points` and those of `readPlaces`.
 * Soil-test lb/ac become ppm by 2, the furrow slice of 6 to 7 in. holding 2,000,000 lb (Penn State Agronomy
 * Guide, soil testing page). Throws `missing-column`, `not-a-number`, `negative-test`, `test-too-high`, `repeated-test`, `repeated-id`,
 * `recommendation` and the errors of `pivotResults`.
 */
export function readLabTable(asFound: SampleFile, answers: FileAnswers, wants: LabWants = {}): LabTable {
  const mendedRows = mendRows(asFound, answers);
  const ofOneDepth = takeDepthColumns(mendedRows.file, answers);
  const given = ofOneDepth.file;
  const pivoted = isLongTable(given) ? pivotLongTable(given, answers) : null;
  const file = pivoted?.file ?? given;
  const headings = readHeadings(file);
  const column = (means: LabMeaning) => headings.find((heading) => heading.means === means);
  requireColumns(file, headings, wants.tests ?? "both");
  const questions: Question[] = [...(pivoted?.questions ?? [])];
  const notices: Notice[] = [...mendedRows.notices, ...ofOneDepth.notices, ...(pivoted?.notices ?? [])];

  const tests: Partial<Record<SoilTest, TestReading>> = {};
  const columns = new Map<SoilTest, number>();
  const aside = new Set<number>();
  for (const test of ["P", "K"] as const) {
    const settled = settleTest(file, test, headings, answers, questions);
    if (settled === null) continue;
    tests[test] = settled.reading;
    columns.set(test, settled.column);
    // Which of several is meant is not known while it is asked.
    if (!questions.some(({ key }) => key === `method.${test}`))
      for (const one of besideTest(headings, test, settled.column)) aside.add(one);
  }
  const cec = column("CEC");
  if (cec) {
    tests.CEC = settleCec(file, cec, answers, questions);
    columns.set("CEC", cec.column);
  }
  const needsDepth = tests.P?.unit === "lb/ac" || tests.K?.unit === "lb/ac" || wants.depth === "always";
  const settledDepth = settleDepth(file, headings, answers, questions, needsDepth);
  const { depth, rows, isMixed } = settledDepth;
  notices.push(...settledDepth.notices);

  const dateColumn = readHeadings(given).find(({ means }) => means === "date")?.column;
  const days = settleDates(given, wants.isDated ? undefined : dateColumn, answers, questions);
  notices.push(...days.notices, ...bufferDoubts(file, column("bufferPH")), ...phDoubts(file, column("pH")));

  const places = [column("latitude")?.column, column("longitude")?.column];
  const numbered = [...columns.values(), ...(file.placed ? [] : places)].filter((one) => one !== undefined);
  const marks = numberMarks(numberCells(file, rows, numbered), file.name, answers);
  const settledValues = settleValues(file, columns, rows, marks, answers);
  questions.push(...marks.questions, ...settledValues.questions);
  notices.push(...marks.notices, ...settledValues.notices);

  const hasPlaceColumns = places.every((one) => one !== undefined);
  const idHeading =
    column("sample") ?? column("labNumber") ?? (hasPlaceColumns ? undefined : zoneHeading(headings));
  const idColumn = idHeading?.column ?? -1;
  const fieldColumn = column("field")?.column ?? -1;
  const ids = rows.map(({ line, cells }) => cells[idColumn]?.trim() || String(line));
  const fields = rows.map(({ cells }) => (fieldColumn < 0 ? null : (cells[fieldColumn]?.trim() ?? null)));
  const located = locateRows(file, rows, ids, fields, headings, answers, wants, marks);
  questions.push(...located.questions);
  notices.push(...located.notices);

  const {
    samples: found,
    skipped,
    leftOut,
  } = gather(
    { ...file, withoutZone: asFound.withoutZone ?? new Map() },
    rows,
    ids,
    fields,
    located.places,
    settledValues.values,
  );
  notices.push(...leftOut);
  const records = wants.isDated ? undefined : sampleRecords(asFound, answers);
  // Cores of several depths share place and number; whether they differ is looked at once it is known which count.
  if (!isMixed) notices.push(...repeatedIds(file, found, idColumn >= 0, records));
  const once = isMixed ? [] : found;
  // Whether they are of one visit is known once it is known how the days are written.
  const isUndated = questions.some(({ key }) => key === "date-order");
  const one = file.one ?? "line";
  const merged = mergeSamePlace(file.name, isUndated ? [] : once, answers["same-place"], one, records);
  notices.push(...merged.notices);
  questions.push(...merged.questions);
  if (depth === "" && !needsDepth) {
    const message = `${file.name}: ${depthDoubt(settledDepth)}; guides are for cores of a given depth: compare.`;
    notices.push({ code: "depth-not-stated", message, where: file.name });
  }
  const isOpen = questions.length > 0;
  const isOxideOpen = questions.some(({ key }) => key === "oxide");
  notices.push(...conversions(file.name, tests, depth, isOxideOpen), ...cecNotices(file.name, tests.CEC));
  const samples = isOpen ? [] : merged.samples.map((sample) => inMeq(inPpm(sample, tests), tests.CEC));
  return {
    samples,
    tests,
    depth: isOpen ? "" : depth,
    unused: pivoted?.unused ?? unusedOf(headings, aside),
    skipped: [...skipped, ...merged.skipped].sort((a, b) => a.record - b.record),
    censored: settledValues.censored,
    setAside: (file.setAside ?? 0) + settledDepth.setAside,
    dates: days.dates,
    unreadDates: days.unread,
    coordinateSystem: located.coordinateSystem,
    coordinateSystemFrom: located.coordinateSystemFrom,
    encoding: file.encoding ?? "UTF-8",
    questions,
    notices,
  };
}

function requireColumns(file: SampleFile, headings: readonly LabHeading[], wanted: "both" | "any"): void {
  const has = (...means: readonly LabMeaning[]) => headings.some((heading) => means.includes(heading.means));
  const missing: string[] = [];
  if (!has("P", "P2O5")) missing.push("P");
  if (!has("K", "K2O")) missing.push("K");
  if (missing.length === 0 || (wanted === "any" && missing.length === 1)) return;
  throw new InputError(
    "missing-column",
    `${file.name}: no column for ${missing.join(", ")} among “${file.headings.join("”, “")}”.`,
    missing.length > 1
      ? "Name the columns in the first row, for example lat, lon, P ppm, K ppm, CEC."
      : `Name the columns in the first row, for example lat, lon, P ppm, K ppm, CEC. Each table of samples must have both P and K: where ${missing[0]} stands in another table, join the two by sample into one.`,
  );
}

function numberCells(file: SampleFile, rows: readonly SampleRow[], columns: readonly number[]): NumberCell[] {
  return rows.flatMap(({ line, cells }) =>
    columns.map((column) => ({
      text: cells[column] ?? "",
      where: `${file.one ?? "line"} ${line}, column ${file.headings[column]}`,
    })),
  );
}

/** Rows with a place and a value, as samples in the file's units; the others are named. */
function gather(
  file: SampleFile,
  rows: readonly SampleRow[],
  ids: readonly string[],
  fields: readonly (string | null)[],
  places: readonly (Point | null)[],
  values: ReadonlyMap<SoilTest, readonly (number | null)[]>,
): { samples: SoilSample[]; skipped: Skipped[]; leftOut: Notice[] } {
  const samples: SoilSample[] = [];
  const skipped: Skipped[] = [];
  const leftOut: Notice[] = [];
  const hasPlaces = places.some((place) => place !== null);
  rows.forEach(({ line }, index) => {
    const at = places[index] ?? null;
    const value = (test: SoilTest): number | null => values.get(test)?.[index] ?? null;
    const where = `${file.name}, ${file.one ?? "line"} ${line}`;
    const [P, K] = [value("P"), value("K")];
    const reason =
      at === null
        ? (file.withoutZone?.get(line) ?? "no position")
        : P === null && K === null
          ? "no value for P or K"
          : null;
    if (reason !== null && hasPlaces) {
      skipped.push({ record: line, reason });
      const code = at === null ? "sample-without-place" : "sample-without-values";
      leftOut.push({ code, message: `${where}: ${reason}; left out.`, where });
    }
    if (reason === null)
      samples.push({ id: ids[index]!, line, at: at!, field: fields[index]!, P, K, CEC: value("CEC") });
  });
  return { samples, skipped, leftOut };
}

function inPpm(sample: SoilSample, tests: Readonly<Partial<Record<SoilTest, TestReading>>>): SoilSample {
  const scaled = (test: "P" | "K"): number | null => {
    const reading = tests[test];
    const value = sample[test];
    if (value === null || reading === undefined) return value;
    return (
      (value * PPM_PER[reading.unit]!) / (reading.oxide === undefined ? 1 : OXIDE_PER_ELEMENT[reading.oxide])
    );
  };
  return { ...sample, P: scaled("P"), K: scaled("K") };
}

function conversions(
  name: string,
  tests: Readonly<Partial<Record<SoilTest, TestReading>>>,
  depth: string,
  isOxideOpen: boolean,
): Notice[] {
  return (["P", "K"] as const).flatMap((test): Notice[] => {
    const reading = tests[test];
    if (reading === undefined) return [];
    const add = (code: string, message: string): Notice => ({
      code,
      message: `${name}: ${message}`,
      where: name,
    });
    const notices: Notice[] = [];
    if (reading.unit === "lb/ac") {
      const slice =
        depth === "" || isFurrowSlice(depth) ? "" : "; 2 holds for cores of 6 to 7 in.: ask the lab";
      const halved =
        depth === ""
          ? "is halved to ppm once the depth is known"
          : `was halved to ppm, for a sample ${depth} deep`;
      notices.push(add("lb-per-ac-to-ppm", `${test} in lb/ac ${halved}${slice}.`));
    } else if (reading.unit === "mg/L") {
      notices.push(add("by-volume", `${test} in mg/L is by volume; 1 mg/L is taken as 1 ppm.`));
    } else if (reading.unit !== "ppm" && reading.unit !== "") {
      notices.push(
        add("unit-to-ppm", `${test} in ${reading.unit} was turned into ppm by ${PPM_PER[reading.unit]}.`),
      );
    }
    const extractant = foreignExtractant(reading.heading);
    if (extractant !== null && reading.method !== "") {
      const message = `“${reading.heading}” names ${extractant}, and ${test} is read as ${reading.method}, as answered.`;
      notices.push(add("extractant-answered-otherwise", message));
    }
    if (reading.oxide !== undefined && !isOxideOpen) {
      const by = OXIDE_PER_ELEMENT[reading.oxide];
      notices.push(add("oxide-to-element", `${reading.oxide} was turned into ${test} by dividing by ${by}.`));
    }
    return notices;
  });
}
