import type { Notice, Question } from "../errors/index.ts";
import { chargeUnitOf, type FileAnswers, isMissingMark, readNumber, unitOf } from "../formats/index.ts";
import type { LabHeading, SampleFile } from "./sample-types.ts";
import type { SoilSample, TestReading } from "./soil-sample.ts";

const UNITS = ["meq/100g", "mmol/kg"] as const;

/** meq/100 g in one of each unit: a mmol of charge is a meq, and 100 g are a tenth of a kg; meq/kg are mmol/kg. */
const MEQ_PER: Readonly<Record<string, number>> = { "meq/100g": 1, "mmol/kg": 0.1 };

/** Median, meq/100 g, beyond which no field of mineral soil lies (ours; common practice: clays reach 30 to 60, organic soils 50 to 200). */
const MINERAL_MOST = 60;

/**
 * How a column of exchange capacity is read: meq/100 g unless its words say otherwise. A unit that is none, one that is
 * written below the heading and not known, and values without a unit that no mineral soil has in meq/100 g are asked, `unit.CEC`.
 */
export function settleCec(
  file: SampleFile,
  { heading, column, unit: chosen }: LabHeading,
  answers: FileAnswers,
  questions: Question[],
): TestReading {
  const byHand = UNITS.find((one) => one === chosen && chosen !== unitOf(heading));
  const below = file.units?.[column] ?? wordsBelow(file, column);
  const said = statedUnit(`${heading} ${below}`);
  const median = medianOf(file, column);
  const isTooHigh = said === null && median > MINERAL_MOST;
  const usual = said === null && below === "" && !isTooHigh ? "meq/100g" : null;
  const stated = byHand ?? UNITS.find((one) => one === said) ?? usual;
  const answer = UNITS.find((unit) => unit === answers["unit.CEC"]);
  const unit = stated ?? answer ?? "";
  if (unit === "") {
    const values = file.rows.slice(0, 3).map((row) => row.cells[column] ?? "");
    const why = isTooHigh
      ? ` None is stated, and half of the values are ${median} and more: in meq/100 g only organic soils have that, mineral soils lie below ${MINERAL_MOST}.`
      : "";
    questions.push({
      key: "unit.CEC",
      text: `In which unit is the exchange capacity, CEC?${why}`,
      choices: UNITS,
      seen: `${file.name}, column “${heading}”: ${values.join(", ")}`,
    });
  }
  return { heading, unit, method: "", saidBy: stated === null ? "answer" : "heading" };
}

/** `another` where the words say a unit in which no exchange capacity is read; null where they say none. */
function statedUnit(words: string): ReturnType<typeof chargeUnitOf> {
  return chargeUnitOf(words) ?? (/ppm|mg ?\/|lbs? ?\/|g ?\/ ?kg/i.test(words) ? "another" : null);
}

const numberOf = (text: string): number | null => readNumber(text.trim().replace(",", "."));

/** What stands in the column where the first row below the headings has words alone: a unit, though other cells are not known as such. */
function wordsBelow({ rows }: SampleFile, column: number): string {
  const cells = rows[0]?.cells ?? [];
  const text = cells[column]?.trim() ?? "";
  return isMissingMark(text) || cells.some((cell) => numberOf(cell) !== null) ? "" : text;
}

function medianOf({ rows }: SampleFile, column: number): number {
  const values = rows.flatMap(({ cells }) => numberOf(cells[column] ?? "") ?? []);
  return values.sort((one, two) => one - two)[Math.floor(values.length / 2)] ?? 0;
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
