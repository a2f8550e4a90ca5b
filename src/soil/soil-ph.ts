import type { Notice } from "../errors/index.ts";
import { namedOnes } from "../formats/index.ts";
import { cellNumber } from "./buffer-ph.ts";
import type { LabHeading, SampleFile } from "./sample-types.ts";

/** No soil has a pH outside of 3 to 11 (ours). */
const isPossible = (value: number): boolean => value >= 3 && value <= 11;

/** A pH that a soil can have; null for any other. */
export const possiblePH = (value: number | null): number | null =>
  value !== null && isPossible(value) ? value : null;

/** A notice where a column of pH holds what no soil has; it is left out of what is shown. */
export function phDoubts(file: SampleFile, heading: LabHeading | undefined): Notice[] {
  if (heading === undefined) return [];
  const odd = file.rows.flatMap(({ line, cells }) => {
    const text = (cells[heading.column] ?? "").trim();
    const value = cellNumber(text);
    return value !== null && !isPossible(value) ? [{ line, text }] : [];
  });
  if (odd.length === 0) return [];
  const lines = namedOnes(
    file.one ?? "line",
    odd.map(({ line }) => line),
  );
  const shown = [...new Set(odd.map(({ text }) => text))].slice(0, 3).join(", ");
  const message = `${file.name}, ${lines}, column “${heading.heading}”: ${shown} is no pH of a soil (3 to 11); left out. pH changes no rate.`;
  return [{ code: "ph-doubtful", message, where: file.name }];
}
