import type { Notice, Question } from "../errors/index.ts";
import type { FileAnswers } from "../formats/index.ts";
import { readDepth } from "./depth.ts";
import { type LabHeading, unitOf } from "./lab-heading.ts";
import type { SampleFile, SampleRow } from "./sample-file.ts";

interface SettledDepth {
  /** `0-6in`; empty when nobody says. */
  readonly depth: string;
  /** The rows of that depth. */
  readonly rows: readonly SampleRow[];
  /** Rows of other depths. */
  readonly setAside: number;
  readonly notices: readonly Notice[];
  /** Rows of several depths lie among these, and which of them counts is asked. */
  readonly isMixed: boolean;
}

/**
 * The sampling depth and its rows: from the file, a column, or two that give top and bottom, or the answer `depth`. Of several the one from the surface;
 * the others are named. Asked in `questions` unless that is null.
 */
export function settleDepth(
  file: SampleFile,
  headings: readonly LabHeading[],
  answers: FileAnswers,
  questions: Question[] | null,
): SettledDepth {
  const whole = { rows: file.rows, setAside: 0, notices: [], isMixed: false };
  if (file.depth !== undefined && file.depth !== "") return { ...whole, depth: file.depth };
  const answer = answers.depth === undefined ? null : readDepth(answers.depth, null);
  const columns = depthColumns(headings);
  if (columns.length === 0) {
    if (answer === null) ask(file, answers.depth, questions);
    return { ...whole, depth: answer ?? "" };
  }
  const stated = columns.map(({ heading, column }) => unitOf(heading) ?? unitOf(file.units?.[column] ?? ""));
  const unit = stated.find((one) => one === "in" || one === "cm") ?? null;
  const texts = file.rows.map(({ cells }) => {
    const ends = columns.map(({ column }) => (cells[column] ?? "").trim());
    return ends.every((end) => end === "") ? "" : ends.join("-");
  });
  const depths = texts.map((text) => readDepth(text, unit) ?? "");
  const different = [...new Set(depths)].filter((depth) => depth !== "");
  const fromSurface = different.filter((depth) => depth.startsWith("0-"));
  const only = different.length === 1 && !depths.includes("") ? different[0] : undefined;
  const chosen = only ?? (answer !== null && different.includes(answer) ? answer : undefined);
  const depth = chosen ?? (fromSurface.length === 1 && !depths.includes("") ? fromSurface[0]! : undefined);
  if (depth !== undefined) {
    const rows = file.rows.filter((_, index) => depths[index] === depth);
    const setAside = file.rows.length - rows.length;
    const others = [...new Set(texts.filter((_, index) => depths[index] !== depth))].map(
      (text) => text || "no depth",
    );
    const message = `${file.name}: ${depth} used; ${others.join(", ")} (${setAside} rows) set aside.`;
    const notices = setAside === 0 ? [] : [{ code: "depth-set-aside", message, where: file.name }];
    return { depth, rows, setAside, notices, isMixed: false };
  }
  if (answer !== null && different.length === 0) return { ...whole, depth: answer };
  // Rows of several depths cannot be one map: this is asked even where nothing else hangs on the depth.
  const open = questions ?? (different.length > 1 ? [] : null);
  ask(
    file,
    answers.depth,
    open,
    [...new Set(texts)].slice(0, 5).map((text) => text || "blank"),
    different,
    fromTheTop(texts, unit),
  );
  return { ...whole, depth: "", isMixed: new Set(depths).size > 1 };
}

/** `0-8in` where every row says one number and its unit alone, such as `8 in`: likely from the surface, but nobody says so. */
function fromTheTop(texts: readonly string[], unit: "in" | "cm" | null): string | null {
  const read = new Set(texts.map((text) => readDepth(`0-${text}`, unit)));
  const [only] = read;
  return read.size === 1 && texts.every((text) => /^[\d.]/.test(text)) ? (only ?? null) : null;
}

/** The column of the depth, or those of its top and bottom; none where the table has neither. */
function depthColumns(headings: readonly LabHeading[]): LabHeading[] {
  const of = (means: LabHeading["means"]) => headings.find((heading) => heading.means === means);
  const whole = of("depth");
  if (whole !== undefined) return [whole];
  const [top, bottom] = [of("depthTop"), of("depthBottom")];
  return top === undefined || bottom === undefined ? [] : [top, bottom];
}

function ask(
  file: SampleFile,
  answer: string | undefined,
  questions: Question[] | null,
  texts: readonly string[] = [],
  choices: readonly string[] = [],
  likely: string | null = null,
): void {
  const wrong = answer === undefined ? "" : ` “${answer}” was answered.`;
  const text = `How deep were the cores taken, top and bottom with the unit, such as 0-6in?${wrong}`;
  const seen = `${file.name}: ${texts.length > 0 ? texts.join(", ") : file.headings.join(", ")}`;
  questions?.push({ key: "depth", text, choices, ...(likely === null ? {} : { likely }), seen });
}
