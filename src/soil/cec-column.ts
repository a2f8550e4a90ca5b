import type { Notice, Question } from "../errors/index.ts";
import type { FileAnswers } from "../formats/index.ts";
import { type LabHeading, unitOf } from "./lab-heading.ts";
import type { SampleFile } from "./sample-file.ts";
import type { SoilSample, TestReading } from "./soil-sample.ts";

const UNITS = ["meq/100g", "mmol/kg"] as const;

/** meq/100 g in one of each unit: a mmol of charge is a meq, and 100 g are a tenth of a kg; meq/kg are mmol/kg. */
const MEQ_PER: Readonly<Record<string, number>> = { "meq/100g": 1, "mmol/kg": 0.1 };

/** How a column of exchange capacity is read: meq/100 g unless its words say otherwise; a unit that is none is asked, `unit.CEC`. */
export function settleCec(
  file: SampleFile,
  { heading, column, unit: chosen }: LabHeading,
  answers: FileAnswers,
  questions: Question[],
): TestReading {
  const byHand = UNITS.find((one) => one === chosen && chosen !== unitOf(heading));
  const stated = byHand ?? statedUnit(`${heading} ${file.units?.[column] ?? ""}`);
  const answer = UNITS.find((unit) => unit === answers["unit.CEC"]);
  const unit = stated ?? answer ?? "";
  if (unit === "") {
    const values = file.rows.slice(0, 3).map((row) => row.cells[column] ?? "");
    questions.push({
      key: "unit.CEC",
      text: "In which unit is the exchange capacity, CEC?",
      choices: UNITS,
      seen: `${file.name}, column “${heading}”: ${values.join(", ")}`,
    });
  }
  return { heading, unit, method: "", saidBy: stated === null ? "answer" : "heading" };
}

/** Null where the words say a unit in which no exchange capacity is read. */
function statedUnit(words: string): string | null {
  const text = words.toLowerCase();
  if (/m(mol|eq).*100 ?g/.test(text)) return "meq/100g";
  if (/m(mol|eq).*kg/.test(text)) return "mmol/kg";
  if (/meq|cmol|me ?\/ ?100/.test(text)) return /cmol[^k]*\/ ?l\b/.test(text) ? null : "meq/100g";
  return /mol|ppm|mg ?\/|lbs? ?\/|g ?\/ ?kg/.test(text) ? null : "meq/100g";
}

/** The sample with its exchange capacity in meq/100 g. */
export const inMeq = (sample: SoilSample, reading: TestReading | undefined): SoilSample =>
  sample.CEC === null ? sample : { ...sample, CEC: sample.CEC * (MEQ_PER[reading?.unit ?? ""] ?? 1) };

/** Told where the unit was turned into another. */
export function cecNotices(name: string, reading: TestReading | undefined): Notice[] {
  if (reading?.unit !== "mmol/kg") return [];
  const message = `${name}: CEC in mmol/kg (meq/kg) was turned into meq/100 g by ${MEQ_PER[reading.unit]}.`;
  return [{ code: "cec-unit-turned", message, where: name }];
}
