import { InputError } from "../errors/index.ts";

/** One cell of a test column: a number, nothing, or a value below or above what the lab can see. */
export type LabValue =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "missing" }
  | { readonly kind: "below" | "above"; readonly limit: number };

const MISSING = new Set(["", "-", "--", "n/a", "na", "ns", "none", "null", "nan", "-9999", "-99", "*"]);

/**
 * Read one cell of a test column. Missing marks (common practice) are not zero. Throws `not-a-number` for
 * text that is neither, `negative-test` for a value below zero; `place` names file, row and column.
 */
export function readLabValue(text: string, place: string): LabValue {
  const cell = text.trim();
  if (MISSING.has(cell.toLowerCase())) return { kind: "missing" };
  const censored = /^([<>])\s*(\d+(?:\.\d+)?)$/.exec(cell);
  if (censored) return { kind: censored[1] === "<" ? "below" : "above", limit: Number(censored[2]) };
  if (!/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(cell)) {
    throw new InputError(
      "not-a-number",
      `${place}: “${cell}” is not a number.`,
      "Type the value again in the file, or leave the cell empty.",
    );
  }
  const value = Number(cell);
  if (value < 0) {
    throw new InputError(
      "negative-test",
      `${place}: ${cell} is below zero.`,
      "A soil test cannot be negative: type the value again, or leave the cell empty.",
    );
  }
  return { kind: "number", value };
}
