import type { Notice } from "../errors/index.ts";
import type { FileAnswers } from "../formats/index.ts";
import { readHeadings, saysCec } from "./chosen-columns.ts";
import { readDepth } from "./depth.ts";
import type { ChosenColumns, SampleFile } from "./sample-types.ts";

/** A depth in a heading, such as `P ppm 0-6` or `K_0_6in`. */
const DEPTH =
  /(?<![\d.])(\d{1,3}(?:\.\d+)?)\s*(?:-|–|_|to)\s*(\d{1,3}(?:\.\d+)?)\s*("|in(?:ch(?:es)?)?|cm)?(?![\da-z.])/i;

/** Depth that a heading names, with its unit if that stands there; null where it names none. */
function depthIn(heading: string): string | null {
  const found = DEPTH.exec(heading);
  if (found === null || Number(found[1]) >= Number(found[2])) return null;
  return `${found[1]}-${found[2]}${found[3] ?? ""}`;
}

/**
 * A table with a column for each of several depths, as one with those of the depth that is used: the one answered, else
 * the only one from the surface. The others are named and count as not used. A table without such columns as it is.
 */
export function takeDepthColumns(
  file: SampleFile,
  answers: FileAnswers,
): { file: SampleFile; notices: Notice[] } {
  const asFound = { file, notices: [] };
  const tests = readHeadings(file).filter(({ means }) => ["P", "K", "P2O5", "K2O"].includes(means));
  const isSeveral = tests.some((one) => tests.some((other) => one !== other && one.means === other.means));
  if (!isSeveral || tests.some((one) => depthIn(one.heading) === null)) return asFound;
  const depths = [...new Set(tests.map((one) => depthIn(one.heading)!))];
  const answer = answers.depth === undefined ? null : readDepth(answers.depth, null);
  const isAnswered = (text: string) =>
    answer !== null && readDepth(text, answer.endsWith("cm") ? "cm" : "in") === answer;
  const fromSurface = depths.filter((text) => Number.parseFloat(text) === 0);
  const used = depths.find(isAnswered) ?? (fromSurface.length === 1 ? fromSurface[0] : undefined);
  if (used === undefined || depths.length < 2) return asFound;

  const aside = depths.filter((text) => text !== used);
  const chosen: Record<string, ChosenColumns[string]> = {};
  for (const heading of file.headings) {
    const text = depthIn(heading);
    if (text !== null && aside.includes(text)) chosen[heading] = { means: "other", unit: null };
  }
  // Of several columns of CEC the first is taken, and that may be one of another depth.
  const cec = file.headings.find((heading) => saysCec(heading) && depthIn(heading) === used);
  if (cec !== undefined) chosen[cec] = { means: "CEC", unit: null };
  const depth = readDepth(used, null) ?? (isAnswered(used) ? answer : null);
  const message = `${file.name}: the columns of ${used} are used; those of ${aside.join(", ")} are set aside.`;
  return {
    file: { ...file, chosen: { ...chosen, ...file.chosen }, ...(depth === null ? {} : { depth }) },
    notices: [{ code: "depth-set-aside", message, where: file.name }],
  };
}
