import type { Notice, Question } from "../errors/index.ts";
import { type FileAnswers, unitOf } from "../formats/index.ts";
import { counted } from "../units/index.ts";
import { readDepth } from "./depth.ts";
import type { LabHeading, SampleFile, SampleRow } from "./sample-types.ts";

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
  /** What a column says of a depth that is not known by it, as of one without a unit; empty when nothing. */
  readonly seen: string;
  /** The depth from the surface that a column of one number and its unit likely says. */
  readonly likely: string | null;
}

/**
 * The sampling depth and its rows: from the file, a column, or two that give top and bottom, or the answer `depth`. Of several the one from the surface;
 * the others are named. A unit the table leaves out is the answer's. Asked where rows of several depths could not be one
 * map, or where the depth `isNeeded` for more.
 */
export function settleDepth(
  file: SampleFile,
  headings: readonly LabHeading[],
  answers: FileAnswers,
  questions: Question[],
  isNeeded: boolean,
): SettledDepth {
  const whole = { rows: file.rows, setAside: 0, notices: [], isMixed: false, seen: "", likely: null };
  if (file.depth !== undefined && file.depth !== "") return { ...whole, depth: file.depth };
  const answer = answers.depth === undefined ? null : readDepth(answers.depth, null);
  const columns = depthColumns(headings);
  if (columns.length === 0) {
    if (answer === null && isNeeded) ask(file, answers.depth, questions);
    return { ...whole, depth: answer ?? "" };
  }
  const stated = columns.map(({ heading, column }) => unitOf(heading) ?? unitOf(file.units?.[column] ?? ""));
  const statedUnit = stated.find((one) => one === "in" || one === "cm") ?? null;
  const unit = statedUnit ?? (answer === null ? null : answer.endsWith("cm") ? "cm" : "in");
  const texts = file.rows.map(({ cells }) => {
    const ends = columns.map(({ column }) => (cells[column] ?? "").trim());
    return ends.every((end) => end === "") ? "" : ends.join("-");
  });
  // Once it is answered that cores were taken from the surface, how deep they went is enough.
  const depthOf = (text: string) =>
    readDepth(text, unit) ?? (answer === null ? null : readDepth(`0-${text}`, unit)) ?? "";
  const depths = texts.map(depthOf);
  const different = [...new Set(depths)].filter((depth) => depth !== "");
  // An answer that gave the unit must be one of the depths it was given for.
  const isBound =
    answer !== null && unit !== statedUnit && texts.every((text) => readDepth(text, null) === null);
  const depth = depthToUse(depths, different, answer, isBound);
  if (depth !== undefined) {
    const rows = file.rows.filter((_, index) => depths[index] === depth);
    const setAside = file.rows.length - rows.length;
    const others = [...new Set(texts.filter((_, index) => depths[index] !== depth))].map(
      (text) => text || "no depth",
    );
    const message = `${file.name}: ${depth} used; ${others.join(", ")} (${setAside} rows) set aside.`;
    const notices: Notice[] =
      setAside === 0
        ? []
        : [
            { code: "depth-set-aside", message, where: file.name },
            ...withoutDepth(file, headings, rows, depth),
          ];
    return { ...whole, depth, rows, setAside, notices };
  }
  if (answer !== null && different.length === 0) return { ...whole, depth: answer };
  const said = [...new Set(texts)];
  // Rows of several depths cannot be one map.
  const isMixed = said.length > 1;
  const likely = fromTheTop(texts, unit);
  if (isNeeded || isMixed) {
    const seen = said.slice(0, 5).map((text) => text || "blank");
    const choices = different.length > 0 ? different : inEitherUnit(said);
    ask(file, answers.depth, questions, seen, choices, likely);
  }
  return { ...whole, depth: "", isMixed, seen: said[0] ?? "", likely };
}

/** Ids that are named before the rest is counted. */
const SHOWN = 6;

/** Samples that have rows of other depths and none of the one that is used: they are lost to the map, and named. */
function withoutDepth(
  file: SampleFile,
  headings: readonly LabHeading[],
  used: readonly SampleRow[],
  depth: string,
): Notice[] {
  const column = (means: LabHeading["means"]) => headings.find((heading) => heading.means === means)?.column;
  const [id, field, latitude, longitude] = (["sample", "field", "latitude", "longitude"] as const).map(
    column,
  );
  const cell = (row: SampleRow, at: number | undefined) =>
    at === undefined ? "" : (row.cells[at] ?? "").trim();
  const keysOf = (row: SampleRow): string[] => {
    const place = row.at
      ? row.at.join(" ")
      : [latitude, longitude]
          .map((at) => cell(row, at))
          .join(" ")
          .trim();
    const name = cell(row, id);
    return [
      ...(place === "" ? [] : [`at ${place}`]),
      ...(name === "" ? [] : [`${cell(row, field)}: ${name}`]),
    ];
  };
  const has = new Set(used.flatMap(keysOf));
  const lost = file.rows.filter((row) => {
    const keys = keysOf(row);
    return keys.length > 0 && !keys.some((key) => has.has(key));
  });
  const names = [...new Set(lost.map((row) => cell(row, id) || `${file.one ?? "line"} ${row.line}`))];
  return lostSamples(file.name, names, depth);
}

/** The notice of samples that have no result of the depth used. */
export function lostSamples(name: string, names: readonly string[], depth: string): Notice[] {
  if (names.length === 0) return [];
  const more = names.length > SHOWN ? ` and ${names.length - SHOWN} more` : "";
  const many = counted(names.length, "sample has", "samples have");
  const message = `${name}: ${many} no result of ${depth} and ${names.length === 1 ? "is" : "are"} left out: ${names.slice(0, SHOWN).join(", ")}${more}; ask the lab for that depth.`;
  return [{ code: "sample-without-depth", message, where: name }];
}

/** What is not known of a depth, in words. */
export function depthDoubt({ seen, likely }: Pick<SettledDepth, "seen" | "likely">): string {
  if (seen === "") return "sampling depth not stated";
  if (likely === null) return `sampling depth “${seen}” stands without a unit`;
  return `sampling depth “${seen}” does not say from where, likely ${likely} (answer depth=${likely})`;
}

/** The depth answered, or the only one, or the only one from the surface; `isBound`: the one answered or none. */
function depthToUse(
  depths: readonly string[],
  different: readonly string[],
  answer: string | null,
  isBound: boolean,
): string | undefined {
  const answered = answer !== null && different.includes(answer) ? answer : undefined;
  if (isBound || depths.includes("")) return answered;
  if (different.length === 1) return different[0];
  const fromSurface = different.filter((depth) => depth.startsWith("0-"));
  return answered ?? (fromSurface.length === 1 ? fromSurface[0] : undefined);
}

/** What depths without a unit may mean, those from the surface first. */
function inEitherUnit(texts: readonly string[]): string[] {
  const read = texts.flatMap((text) => [readDepth(text, "in"), readDepth(text, "cm")]);
  const depths = read.filter((depth) => depth !== null);
  return depths.toSorted((a, b) => Number(b.startsWith("0-")) - Number(a.startsWith("0-")));
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
  questions: Question[],
  texts: readonly string[] = [],
  choices: readonly string[] = [],
  likely: string | null = null,
): void {
  const wrong = answer === undefined ? "" : ` “${answer}” was answered.`;
  const text = `How deep were the cores taken, top and bottom with the unit, such as 0-6in?${wrong}`;
  const seen = `${file.name}: ${texts.length > 0 ? texts.join(", ") : file.headings.join(", ")}`;
  questions.push({ key: "depth", text, choices, ...(likely === null ? {} : { likely }), seen });
}
