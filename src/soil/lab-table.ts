import { InputError, type Notice, type Question } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { type LabHeading, type LabMeaning, readHeading } from "./lab-heading.ts";
import { readLabValue } from "./lab-value.ts";
import { mergeSamePlace } from "./same-place.ts";
import type { SoilSample, SoilTest, TestReading } from "./soil-sample.ts";

/** A table of text as it stands in a file: headings, and rows with the line each began on. */
export interface SampleFile {
  readonly name: string;
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** A lab table as read. While `questions` is not empty, `samples` is empty. */
export interface LabTable {
  readonly samples: readonly SoilSample[];
  readonly tests: Readonly<Partial<Record<SoilTest, TestReading>>>;
  /** Sampling depth as stated, such as `0-8in`. */
  readonly depth: string;
  /** Headings that nothing was taken from. */
  readonly unused: readonly string[];
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

const METHODS: Readonly<Record<"P" | "K", readonly string[]>> = {
  P: ["mehlich-3", "mehlich-3-icp", "mehlich-3-colorimetric", "bray-p1", "olsen"],
  K: ["ammonium-acetate", "mehlich-3"],
};
const UNITS = ["ppm", "lb/ac"] as const;

/**
 * Read soil samples from a lab's table. Unit, extractant and depth come from headings, columns or answers
 * (`unit.P`, `method.P`, `unit.K`, `method.K`, `depth`), else they are questions; none is guessed. The depth is
 * asked only where lb/ac hang on it, else its absence is a notice.
 * Soil-test lb/ac become ppm by 2, the furrow slice of 6 to 7 in. holding 2,000,000 lb (Penn State Agronomy
 * Guide, soil testing page). Throws `missing-column`, `not-a-number`, `negative-test`, `not-read-yet`.
 */
export function readLabTable(file: SampleFile, answers: Readonly<Record<string, string>>): LabTable {
  const headings = file.headings.map(readHeading);
  const column = (means: LabMeaning) => headings.find((heading) => heading.means === means);
  requireColumns(file, headings);
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const tests: Partial<Record<SoilTest, TestReading>> = {};
  for (const test of ["P", "K"] as const) {
    const heading = column(test);
    if (heading) tests[test] = settleTest(file, test, heading, answers, questions);
  }
  const cec = column("CEC");
  if (cec) tests.CEC = { heading: cec.heading, unit: "meq/100g", method: "", saidBy: "heading" };
  const needsDepth = tests.P?.unit === "lb/ac" || tests.K?.unit === "lb/ac";
  const depth = settleDepth(file, column("depth"), answers, needsDepth ? questions : null);
  const unused = headings.filter((heading) => heading.means === "other").map((heading) => heading.heading);
  if (questions.length > 0) return { samples: [], tests, depth: "", unused, questions, notices };

  const rows = readRows(file, headings, tests, notices);
  if (depth === "") {
    const message = `${file.name}: sampling depth not stated; guides are for cores of a given depth: compare.`;
    notices.push({ code: "depth-not-stated", message, where: file.name });
  }
  const merged = mergeSamePlace(file.name, rows, answers["same-place"]);
  notices.push(...merged.notices);
  for (const test of ["P", "K"] as const) {
    if (tests[test]?.unit === "lb/ac") {
      const message = `${file.name}: ${test} in lb/ac was halved to ppm, for a sample ${depth} deep.`;
      notices.push({ code: "lb-per-ac-to-ppm", message, where: file.name });
    }
  }
  return { samples: merged.samples, tests, depth, unused, questions: merged.questions, notices };
}

function requireColumns(file: SampleFile, headings: readonly LabHeading[]): void {
  const has = (means: LabMeaning) => headings.some((heading) => heading.means === means);
  const oxide = headings.find((heading) => heading.means === "P2O5" || heading.means === "K2O");
  if (oxide) {
    throw new InputError(
      "not-read-yet",
      `${file.name}: column “${oxide.heading}” gives an oxide, which is not read yet.`,
      "Ask the lab for elemental P and K.",
    );
  }
  const missing: string[] = [];
  if (!has("latitude")) missing.push("latitude");
  if (!has("longitude")) missing.push("longitude");
  if (!has("P")) missing.push("P");
  if (!has("K")) missing.push("K");
  if (missing.length > 0) {
    throw new InputError(
      "missing-column",
      `${file.name}: no column for ${missing.join(", ")} among “${file.headings.join("”, “")}”.`,
      "Name the columns in the first row, for example lat, lon, P ppm, K ppm, CEC.",
    );
  }
}

function settleTest(
  file: SampleFile,
  test: "P" | "K",
  heading: LabHeading,
  answers: Readonly<Record<string, string>>,
  questions: Question[],
): TestReading {
  const values = file.rows.slice(0, 3).map((row) => row.cells[heading.column] ?? "");
  const seen = `${file.name}, column “${heading.heading}”: ${values.join(", ")}`;
  const settle = (what: "unit" | "method", stated: string | null, choices: readonly string[]) => {
    if (stated !== null) return stated;
    const key = `${what}.${test}`;
    const answer = answers[key];
    if (answer !== undefined && choices.includes(answer)) return answer;
    const wrong = answer === undefined ? "" : ` “${answer}” is not one of the choices.`;
    const asked = what === "unit" ? "In which unit is" : "Which extractant was used for";
    questions.push({ key, text: `${asked} soil test ${test}?${wrong}`, choices, seen });
    return "";
  };
  const unit = settle(
    "unit",
    heading.unit === "ppm" || heading.unit === "lb/ac" ? heading.unit : null,
    UNITS,
  );
  const method = settle("method", heading.method, METHODS[test]);
  return { heading: heading.heading, unit, method, saidBy: heading.method === null ? "answer" : "heading" };
}

function settleDepth(
  file: SampleFile,
  heading: LabHeading | undefined,
  answers: Readonly<Record<string, string>>,
  questions: Question[] | null,
): string {
  const stated = new Set(
    heading === undefined
      ? []
      : file.rows.map((row) => (row.cells[heading.column] ?? "").replaceAll(/[\s.]/g, "").toLowerCase()),
  );
  if (stated.size > 1) {
    throw new InputError(
      "mixed-depths",
      `${file.name}: depths ${[...stated].join(", ")} stand in one file.`,
      "Keep one depth a file.",
    );
  }
  const depth = stated.values().next().value || answers.depth;
  if (depth !== undefined && depth !== "") return /in$/.test(depth) ? depth : `${depth}in`;
  const seen = `${file.name}: ${file.headings.join(", ")}`;
  questions?.push({ key: "depth", text: "How deep were the cores taken, such as 0-6in?", choices: [], seen });
  return "";
}

function readRows(
  file: SampleFile,
  headings: readonly LabHeading[],
  tests: Readonly<Partial<Record<SoilTest, TestReading>>>,
  notices: Notice[],
): SoilSample[] {
  const at = (means: LabMeaning) => headings.find((heading) => heading.means === means)?.column ?? -1;
  const columns = { id: at("sample"), field: at("field"), lat: at("latitude"), lon: at("longitude") };
  const samples: SoilSample[] = [];
  for (const { line, cells } of file.rows) {
    const where = `${file.name}, line ${line}`;
    const place = readPlace(where, cells[columns.lon] ?? "", cells[columns.lat] ?? "");
    if (place === null) {
      notices.push({ code: "sample-without-place", message: `${where}: no position; left out.`, where });
      continue;
    }
    const value = (test: SoilTest): number | null => {
      const column = at(test);
      if (column < 0) return null;
      const read = readLabValue(cells[column] ?? "", `${where}, column ${headings[column]?.heading ?? test}`);
      if (read.kind === "missing") {
        notices.push({
          code: "test-missing",
          message: `${where}: no value for ${test}; counted as none.`,
          where,
        });
        return null;
      }
      const scale = tests[test]?.unit === "lb/ac" ? 0.5 : 1;
      if (read.kind === "number") return read.value * scale;
      const used = read.kind === "below" ? read.limit / 2 : read.limit;
      const text = `${where}: ${test} “${cells[column]}” is outside what the lab can see; ${used} is used.`;
      notices.push({ code: "test-censored", message: text, where });
      return used * scale;
    };
    samples.push({
      id: cells[columns.id]?.trim() || String(line),
      line,
      at: place,
      field: columns.field < 0 ? null : (cells[columns.field]?.trim() ?? null),
      P: value("P"),
      K: value("K"),
      CEC: value("CEC"),
    });
  }
  return samples;
}

function readPlace(where: string, lonText: string, latText: string): Point | null {
  const [lon, lat] = [Number(lonText), Number(latText)];
  if (lonText.trim() === "" || latText.trim() === "" || (lon === 0 && lat === 0)) return null;
  if (!Number.isFinite(lon) || !Number.isFinite(lat)) {
    throw new InputError(
      "not-a-number",
      `${where}: “${lonText}, ${latText}” is not a longitude and a latitude in degrees.`,
      "Give decimal degrees, west and south negative.",
    );
  }
  if (Math.abs(lat) > 90 || Math.abs(lon) > 180) {
    const swapped = Math.abs(lat) <= 180 && Math.abs(lon) <= 90;
    throw new InputError(
      swapped ? "lon-lat-swapped" : "not-degrees",
      swapped
        ? `${where}: latitude ${lat} is impossible; longitude and latitude look swapped.`
        : `${where}: ${lon}, ${lat} are not degrees.`,
      swapped ? "Swap the two headings." : "Export the samples in longitude and latitude (WGS 84).",
    );
  }
  return [lon, lat];
}
