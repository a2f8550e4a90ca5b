import { InputError } from "../errors/index.ts";
import { isMissingMark, isNotDetected, type NumberMarks } from "../formats/index.ts";

/** One cell of a test column: a number, nothing, a value outside what the lab can see, or a text that is none of these. */
export type LabValue =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "missing" }
  | { readonly kind: "left-out" }
  | { readonly kind: "not-detected" }
  | { readonly kind: "unreadable" }
  | { readonly kind: "below" | "above"; readonly limit: number };

/** Highest value of any test in any unit; ours: a tenth of the soil's own weight, in ppm. */
const MOST = 100_000;

/**
 * Read one cell of a test column, numbers written as `marks` says. Missing marks (common practice) are not zero, and
 * formulas are not computed. Throws `negative-test` for a value below zero, `test-too-high`; `place` names file, row and column.
 */
export function readLabValue(text: string, marks: NumberMarks, place: string): LabValue {
  const cell = text.trim();
  if (isMissingMark(cell)) return { kind: "missing" };
  if (isNotDetected(cell)) return { kind: "not-detected" };
  const sign = /^[<>]/.exec(cell)?.[0];
  const value = marks.read(sign === undefined ? cell : cell.slice(1));
  if (value === null) return { kind: "unreadable" };
  if (value === "left-out") return { kind: "left-out" };
  if (value < 0) {
    throw new InputError(
      "negative-test",
      `${place}: ${cell} is below zero.`,
      "A soil test cannot be negative: type the value again, or leave the cell empty.",
    );
  }
  if (value > MOST) {
    throw new InputError(
      "test-too-high",
      `${place}: ${cell} is more than any soil test shows.`,
      "Type the value again, or leave the cell empty.",
    );
  }
  if (sign === undefined) return { kind: "number", value };
  return { kind: sign === "<" ? "below" : "above", limit: value };
}
