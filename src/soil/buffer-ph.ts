import type { Notice } from "../errors/index.ts";
import type { LabHeading, SampleFile } from "./sample-types.ts";

/** What a buffer pH is called by, and the words that may stand with it: whose buffer, and pH or index (common practice). */
const BUFFER = /^(buffer|buf|bph|bufferph|bufph|phbuffer|smp|sikora)$/;
const WITH_BUFFER = /^(ph|index|value|mehlich|modified|adams|evans|woodruff|soil|test|su)$/;

/** Whether the words of a heading name a buffer pH and nothing besides. */
export const isBufferHeading = (words: readonly string[]): boolean =>
  words.some((word) => BUFFER.test(word)) &&
  words.every((word) => BUFFER.test(word) || WITH_BUFFER.test(word));

/** No buffer pH lies outside of 3 to 9. */
const isOutside = (value: number): boolean => value < 3 || value > 9;

/** A number as a cell of pH has it, with a decimal point or comma; null for anything else. */
export function cellNumber(text: string): number | null {
  const value = text.trim() === "" ? Number.NaN : Number(text.trim().replace(",", "."));
  return Number.isFinite(value) ? value : null;
}

const numbersOf = (texts: readonly string[]): number[] =>
  texts.map(cellNumber).filter((value) => value !== null);

/** Whether cells cannot be buffer pH: none is a number, or one is a number that no buffer pH has. */
export function hasNoBufferPH(texts: readonly string[]): boolean {
  const numbers = numbersOf(texts);
  return numbers.length === 0 ? texts.some((text) => text.trim() !== "") : numbers.some(isOutside);
}

/** A notice where a column read as buffer pH holds what cannot be one. */
export function bufferDoubts(file: SampleFile, heading: LabHeading | undefined): Notice[] {
  if (heading === undefined) return [];
  const odd = numbersOf(file.rows.map(({ cells }) => cells[heading.column] ?? "")).filter(isOutside);
  if (odd.length === 0) return [];
  const shown = [...new Set(odd)].slice(0, 3).join(", ");
  const message = `${file.name}, column “${heading.heading}”: read as buffer pH, and ${odd.length === 1 ? "one value is" : `${odd.length} values are`} outside 3 to 9 (${shown}); if it is something else, answer column:${file.name}:${heading.heading}=sample, or =other.`;
  return [{ code: "buffer-ph-doubtful", message, where: file.name }];
}
