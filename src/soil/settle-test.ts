import { InputError, type Question } from "../errors/index.ts";
import { type FileAnswers, unitOf } from "../formats/index.ts";
import { LB_PER_AC_PER_PPM } from "../units/index.ts";
import { foreignExtractant } from "./foreign-extractant.ts";
import { saysMoist } from "./lab-heading.ts";
import type { LabHeading, LabMeaning, SampleFile } from "./sample-types.ts";
import type { TestReading } from "./soil-sample.ts";

const METHODS: Readonly<Record<"P" | "K", readonly string[]>> = {
  P: ["mehlich-3", "mehlich-3-icp", "mehlich-3-colorimetric", "bray-p1", "olsen"],
  K: ["ammonium-acetate", "mehlich-3", "ammonium-acetate-moist", "mehlich-3-moist"],
};
const ASKED_UNITS = ["ppm", "mg/L", "lb/ac"] as const;
const PER_HECTARE =
  " Tests in kg/ha are not read: turn them into lb/ac first (1 kg/ha is 0.892 lb/ac), in a column that says so.";
const notOurs = (extractant: string): string =>
  ` It is headed ${extractant}, which no guide here reads and no figure here converts: values by it can be taken for none of these. Answer only where the heading is wrong; else have the soil tested by one of them.`;
/** P in P2O5 and K in K2O by atomic weights (NIST 2021 weights: P 30.974, K 39.098, O 15.999). */
export const OXIDE_PER_ELEMENT: Readonly<Record<"P2O5" | "K2O", number>> = { P2O5: 2.2914, K2O: 1.2046 };
/** ppm in one of each unit; mg in 100 g: 10 mg in 1 kg; meq of K: 391 ppm, its weight in 100 g x 10. */
export const PPM_PER: Readonly<Record<string, number>> = {
  ppm: 1,
  "mg/L": 1,
  "mg/100g": 10,
  "lb/ac": 1 / LB_PER_AC_PER_PPM,
  "meq/100g": 391,
  "%": 10_000,
};

/** The column of a test with how it is read; unit or method are empty while their questions are open. */
interface TestColumn {
  readonly column: number;
  readonly reading: TestReading;
}

/** Collects what stands open about a test: unit, extractant, oxide or element. Null when the table has no such test. */
export function settleTest(
  file: SampleFile,
  test: "P" | "K",
  headings: readonly LabHeading[],
  answers: FileAnswers,
  questions: Question[],
): TestColumn | null {
  const heading = chooseColumn(file, test, headings, answers, questions);
  if (heading === null) return null;
  const values = file.rows.slice(0, 3).map((row) => row.cells[heading.column] ?? "");
  const beside = file.methods?.[test];
  const code = beside?.code ? `, method ${beside.code}` : "";
  const seen = `${file.name}, column “${heading.heading}”${code}: ${values.join(", ")}`;
  const cell = file.units?.[heading.column] ?? "";
  const perHectare = /\bkg ?(\/|per|_)? ?ha\b/i.test(`${heading.heading} ${cell}`) ? PER_HECTARE : "";
  const extractant = foreignExtractant(`${heading.heading} ${beside?.code ?? ""}`);
  const foreign = extractant === null ? "" : notOurs(extractant);
  const settle = (what: "unit" | "method", stated: string | null, choices: readonly string[]): string => {
    if (stated !== null) return stated;
    const key = `${what}.${test}`;
    const answer = answers[key];
    if (answer !== undefined && choices.includes(answer)) return answer;
    const wrong = answer === undefined ? "" : ` “${answer}” is not one of the choices.`;
    const asked = what === "unit" ? "In which unit is" : "Which extractant was used for";
    if (!questions.some((question) => question.key === key)) {
      const text = `${asked} soil test ${test}?${wrong}${what === "unit" ? perHectare : foreign}`;
      questions.push({ key, text, choices, seen });
    }
    return "";
  };
  const statedUnit = testUnit(heading.unit ?? unitOf(cell));
  const unit = settle("unit", statedUnit, ASKED_UNITS);
  const stated = withFinish(test, beside?.method ?? heading.method, answers[`method.${test}`]);
  const isMoist = test === "K" && saysMoist(`${heading.heading} ${beside?.code ?? ""}`);
  const method = settle(
    "method",
    stated,
    METHODS[test].filter((one) => !isMoist || one.endsWith("-moist")),
  );
  const oxide = settleOxide(file, heading, answers, questions);
  const reading: TestReading = {
    heading: heading.heading,
    unit,
    method,
    saidBy: stated === null || statedUnit === null ? "answer" : "heading",
    ...(oxide === null ? {} : { oxide }),
    ...(beside?.code ? { code: beside.code } : {}),
  };
  return { column: heading.column, reading };
}

/** Of several columns for one test that guides read the one whose extractant was answered; else the question `method.P`. */
function chooseColumn(
  file: SampleFile,
  test: "P" | "K",
  headings: readonly LabHeading[],
  answers: FileAnswers,
  questions: Question[],
): LabHeading | null {
  const oxide: LabMeaning = test === "P" ? "P2O5" : "K2O";
  const elements = headings.filter((heading) => heading.means === test);
  const all = elements.length > 0 ? elements : headings.filter((heading) => heading.means === oxide);
  // Beside others an extractant that no guide reads is not the one that is meant.
  const read = all.filter(({ heading }) => foreignExtractant(heading) === null);
  const found = read.length > 0 ? read : all;
  if (found.length < 2) return found[0] ?? null;
  const methods = found.map((heading) => heading.method);
  if (methods.includes(null) || new Set(methods).size < methods.length) {
    throw new InputError(
      "repeated-test",
      `${file.name}: more than one column for ${test}: “${found.map(({ heading }) => heading).join("”, “")}”.`,
      `Leave one of them in the file, name the extractant of each in its heading, or answer column:${file.name}:${found[1]!.heading}=other for one that is not meant.`,
    );
  }
  const key = `method.${test}`;
  const chosen = found.find((heading) => heading.method === answers[key]);
  if (chosen) return chosen;
  questions.push({
    key,
    text: `Soil test ${test} was done by more than one extractant. Which is to be used?`,
    choices: methods as string[],
    seen: `${file.name}, columns “${found.map(({ heading }) => heading).join("”, “")}”`,
  });
  return found[0]!;
}

/**
 * Mehlich-3 without a finish becomes the one that was answered, and K whose heading says nothing of moist soil that on
 * moist soil: the lab was asked how it read the extract, and what it extracted.
 */
const withFinish = (test: "P" | "K", stated: string | null, answer: string | undefined): string | null =>
  test === "P"
    ? stated === "mehlich-3" && answer?.startsWith("mehlich-3-")
      ? null
      : stated
    : answer === `${stated}-moist`
      ? null
      : stated;

function testUnit(unit: LabHeading["unit"]): string | null {
  return unit === "in" || unit === "cm" || unit === "mmol/kg" ? null : unit;
}

function settleOxide(
  file: SampleFile,
  { heading, means }: LabHeading,
  answers: FileAnswers,
  questions: Question[],
): "P2O5" | "K2O" | null {
  if (means !== "P2O5" && means !== "K2O") return null;
  const answer = answers.oxide;
  if (answer === "oxide") return means;
  if (answer === "element") return null;
  if (answer === "recommendation") {
    throw new InputError(
      "recommendation",
      `${file.name}, column “${heading}”: a recommendation is not a soil test.`,
      "Give the lab's soil test values.",
    );
  }
  const before = questions.findIndex((question) => question.key === "oxide");
  if (before >= 0) {
    const other = questions[before]!;
    questions[before] = { ...other, seen: `${other.seen}; column “${heading}”` };
    return means;
  }
  questions.push({
    key: "oxide",
    text:
      "Are these soil tests given as oxide, to be turned into the element (P2O5 / 2.2914, K2O / 1.2046), or is the heading " +
      "wrong? A recommendation is no soil test and cannot be read as one.",
    choices: ["oxide", "element"],
    seen: `${file.name}, column “${heading}”`,
  });
  return means;
}
