import type { Notice, Question } from "../errors/index.ts";
import type { Value } from "./feature.ts";
import { isMissingMark } from "./missing-marks.ts";
import { readNumber } from "./read-number.ts";
import type { FileAnswers } from "./settle-system.ts";

/** A cell that should hold a number, with the words that name it: `line 9, column K (ppm)`. */
export interface NumberCell {
  readonly text: string;
  readonly where: string;
}

/** How the numbers of a file are written. */
export interface NumberMarks {
  /** The number a text holds; `left-out` for one that an answer leaves out; null for a text that is no number. */
  read(text: string): number | "left-out" | null;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

/** The number of an attribute: a number as it is, a text by the file's marks; null where it holds or means none. */
export function numberIn(value: Value | undefined, marks: NumberMarks): number | null {
  if (typeof value === "number") return value;
  const text = String(value ?? "");
  const read = isMissingMark(text) ? null : marks.read(text);
  return typeof read === "number" ? read : null;
}

const THOUSANDS = /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/;
const DECIMAL = /^[+-]?\d+,\d+$/;
const POINT = /^[+-]?\d*\.\d+([eE][+-]?\d+)?$/;

/**
 * The decimal mark belongs to the file. Commas alone, and not all before three digits: decimal commas, with a notice.
 * Commas before three digits in a file that also has decimal points: thousands, with a notice. Anything else is the
 * question `decimal-comma` (`decimal`, `thousands`, `leave-out`). A `<` or `>` before a number does not matter here.
 */
export function numberMarks(cells: readonly NumberCell[], path: string, answers: FileAnswers): NumberMarks {
  const plain = cells.map(({ text, where }) => ({ text: text.replace(/^\s*[<>]\s*/, "").trim(), where }));
  const commas = plain.filter(({ text }) => THOUSANDS.test(text) || DECIMAL.test(text));
  if (commas.length === 0) return { read: readNumber, questions: [], notices: [] };
  const hasPoints = plain.some(({ text }) => POINT.test(text) || /^[+-]?\d{1,3}(,\d{3})+\.\d+$/.test(text));
  const oddOnes = commas.filter(({ text }) => !THOUSANDS.test(text));
  const shown = shownCells(commas);
  if (!hasPoints && oddOnes.length > 0 && commas.every(({ text }) => DECIMAL.test(text))) {
    const message = `decimal comma: ${shown} read as ${commas[0]!.text.replace(",", ".")} and so on`;
    return { read: readDecimal, questions: [], notices: [{ code: "decimal-comma", message, where: path }] };
  }
  if (hasPoints && oddOnes.length === 0) {
    const message = `commas before three digits read as thousands: ${shown}`;
    return {
      read: readThousands,
      questions: [],
      notices: [{ code: "thousands-comma", message, where: path }],
    };
  }
  const asked = oddOnes.length > 0 ? oddOnes : commas;
  const answer = answers["decimal-comma"];
  if (answer === "decimal") return { read: readDecimal, questions: [], notices: [] };
  if (answer === "thousands") return { read: readThousands, questions: [], notices: [] };
  if (answer === "leave-out") {
    const left = new Set(asked.map(({ text }) => text));
    const notices = asked.map(({ text, where }) => {
      return { code: "value-left-out", message: `${where}: ${text} left out`, where: path };
    });
    return {
      read: (text) => (left.has(text.trim()) ? "left-out" : readThousands(text)),
      questions: [],
      notices,
    };
  }
  const question: Question = {
    key: "decimal-comma",
    text: `Is the comma in ${shownCells(asked)} a decimal comma, or does it stand between thousands?`,
    choices: ["decimal", "thousands", "leave-out"],
    seen: `${path}, ${shownCells(asked)}${hasPoints ? "; other numbers of the file have decimal points" : ""}`,
  };
  return { read: readThousands, questions: [question], notices: [] };
}

function readDecimal(text: string): number | null {
  const trimmed = text.trim();
  return readNumber(DECIMAL.test(trimmed) ? trimmed.replace(",", ".") : trimmed);
}

function readThousands(text: string): number | null {
  const trimmed = text.trim();
  return readNumber(/^[+-]?[\d,]+(\.\d+)?$/.test(trimmed) ? trimmed.replaceAll(",", "") : trimmed);
}

function shownCells(cells: readonly NumberCell[]): string {
  const shown = cells.slice(0, 4).map(({ text, where }) => `${where}: ${text}`);
  return `${shown.join("; ")}${cells.length > 4 ? `; and ${cells.length - 4} more` : ""}`;
}
