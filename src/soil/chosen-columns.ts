import { InputError } from "../errors/index.ts";
import { type FileAnswers, isPartOfAngle, type LabUnit, plainName } from "../formats/index.ts";
import { hasNoBufferPH } from "./buffer-ph.ts";
import { methodOf, readHeading } from "./lab-heading.ts";
import type { ChosenColumns, LabHeading, LabMeaning } from "./sample-types.ts";

/** What a column of a lab table can be taken as by hand; `other` is not used. */
export const COLUMN_CHOICES: readonly LabMeaning[] = [
  ...(["sample", "labNumber", "field", "latitude", "longitude", "depth", "date"] as const),
  ...(["P", "K", "P2O5", "K2O", "CEC", "pH", "bufferPH", "OM", "other"] as const),
];

/** Units a column can be given by hand. */
export const COLUMN_UNITS: readonly LabUnit[] = [
  "ppm",
  "mg/L",
  "mg/100g",
  "lb/ac",
  "meq/100g",
  "mmol/kg",
  "%",
  "in",
  "cm",
];

/** The answer that says what a column is: `column:FILE:HEADING`; `P`, `P ppm`, `other`. */
export const columnKey = (file: string, heading: string): string => `column:${file}:${heading}`;

export const isColumnChoice = (key: string): boolean => /^column:.+:.+$/.test(key);

export const isColumnChoiceOf = (file: string, key: string): boolean => key.startsWith(`column:${file}:`);

/**
 * The columns of a table that somebody chose; null when none was chosen. Throws `no-such-column` for a heading the table
 * has not, and for what no column can be.
 */
export function chosenColumns(
  file: string,
  headings: readonly string[],
  answers: FileAnswers,
): ChosenColumns | null {
  const keys = Object.keys(answers).filter((key) => isColumnChoiceOf(file, key));
  if (keys.length === 0) return null;
  return Object.fromEntries(
    keys.map((key) => {
      const heading = key.slice(columnKey(file, "").length);
      const [word = "", unit = null] = answers[key]!.trim().split(/\s+/);
      const means = COLUMN_CHOICES.find((one) => one.toLowerCase() === word.toLowerCase());
      const known = unit === null ? null : COLUMN_UNITS.find((one) => one === unit);
      if (!headings.includes(heading) || means === undefined || known === undefined) {
        throw new InputError(
          "no-such-column",
          headings.includes(heading)
            ? `${file}, column ${heading}: “${answers[key]}” is nothing a column can be; it can be ${COLUMN_CHOICES.join(", ")}, with a unit behind it where there is one (${COLUMN_UNITS.join(", ")}).`
            : `${file}: has no column “${heading}”, and “${key}” was answered for it.`,
          headings.includes(heading)
            ? "Answer what the column holds, or other to leave it aside."
            : "Take the answer back; the file may have changed.",
        );
      }
      return [heading, { means, unit: known }];
    }),
  );
}

/** Oxide and element of a test stand for each other: who chooses one puts the other's column aside. */
const TEST_OF: Readonly<Partial<Record<LabMeaning, string>>> = { P2O5: "P", K2O: "K" };
const testOf = (means: LabMeaning): string => TEST_OF[means] ?? means;

/**
 * What the columns of a table say, with what was chosen by hand in place of it. A column chosen for something takes the
 * place of those whose headings say the same.
 */
export function readHeadings(table: {
  readonly headings: readonly string[];
  readonly chosen?: ChosenColumns | null;
  readonly rows?: readonly { readonly cells: readonly string[] }[];
}): LabHeading[] {
  const { headings, chosen } = table;
  const read = withAnId(withOneField(withOneCec(headings.map(readHeading))), table.rows ?? []);
  if (!chosen) return read;
  const taken = new Set(
    Object.values(chosen)
      .filter(({ means }) => means !== "other")
      .map(({ means }) => testOf(means)),
  );
  return read.map((one): LabHeading => {
    const choice = chosen[one.heading];
    if (choice !== undefined) {
      const { means, unit } = choice;
      return { ...one, means, unit: unit ?? one.unit, method: methodOf(means, one.heading) };
    }
    return taken.has(testOf(one.means)) ? { ...one, means: "other" } : one;
  });
}

/** Whether a heading names the exchange capacity by its letters, dotted or not. */
export const saysCec = (heading: string): boolean => /c\.?e\.?c/i.test(heading);

/** Where a table gives the exchange capacity twice, as reported and as a sum of cations, the column named so counts. */
function withOneCec(headings: readonly LabHeading[]): LabHeading[] {
  const all = headings.filter(({ means }) => means === "CEC");
  const used = all.find(({ heading }) => saysCec(heading)) ?? all[0];
  return headings.map((one) => (one.means === "CEC" && one !== used ? { ...one, means: "other" } : one));
}

/** Headings that name a field and nothing else; they go before those of its number, or of the field and whose it is. */
const FIELD_ALONE = ["field", "fieldname", "fieldid", "schlag", "schlagname"];

/** Where a table names the field twice, the column that names it alone counts, else the first. */
function withOneField(headings: readonly LabHeading[]): LabHeading[] {
  const all = headings.filter(({ means }) => means === "field");
  const used = all.find(({ heading }) => FIELD_ALONE.includes(plainName(heading))) ?? all[0];
  return headings.map((one) => (one.means === "field" && one !== used ? { ...one, means: "other" } : one));
}

/** Headings that are an id where no other is: the grid a sample is of, and `Smp` over what is no buffer pH. */
const MAY_BE_AN_ID = ["grid", "gridid", "gridno", "gridnumber", "gridpoint", "smp"];

function withAnId(
  headings: readonly LabHeading[],
  rows: readonly { readonly cells: readonly string[] }[],
): LabHeading[] {
  if (headings.some(({ means }) => means === "sample" || means === "labNumber")) return [...headings];
  const found = headings.find(
    ({ heading, column }) =>
      MAY_BE_AN_ID.includes(plainName(heading.replace(/#$/, "no"))) &&
      (readHeading(heading, column).means === "other" ||
        hasNoBufferPH(rows.map(({ cells }) => cells[column] ?? ""))),
  );
  return headings.map((one) => (one === found ? { ...one, means: "sample" } : one));
}

/** Headings that nothing is taken from; `aside` has columns of a test that another column is read for. */
export const unusedOf = (headings: readonly LabHeading[], aside: ReadonlySet<number> = new Set()): string[] =>
  headings
    .filter(
      ({ means, heading, column }) => aside.has(column) || (means === "other" && !isPartOfAngle(heading)),
    )
    .map(({ heading }) => heading);

/** Columns of P or K, as element or oxide, beside the one that the test is read from. */
export const besideTest = (
  headings: readonly LabHeading[],
  test: "P" | "K",
  used: number,
): readonly number[] =>
  headings
    .filter(({ means, column }) => testOf(means) === test && column !== used)
    .map(({ column }) => column);
