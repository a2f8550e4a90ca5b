import type { Column } from "../../formats/index.ts";
import type { Oxide } from "../document/document-need-types.ts";

interface RateQuestion {
  readonly text: string;
  readonly choices: readonly string[];
}

/**
 * What is asked of an adviser's rates of one nutrient, by key without the nutrient: which column, of what, in which unit. A
 * plan that is being made asks the same as one that leaves it out.
 */
export function rateQuestions(
  path: string,
  nutrient: Oxide,
  columns: readonly Column[],
): Readonly<Record<"rate-column" | "rate-of" | "rate-unit", RateQuestion>> {
  const numeric = columns.filter(({ kind }) => kind === "number" || kind === "mixed");
  return {
    "rate-column": {
      text: `Which column of ${path} holds the rate of ${nutrient}?`,
      choices: numeric.map(({ name }) => name),
    },
    "rate-of": {
      text: `Is the rate of ${nutrient} given as oxide or as product?`,
      choices: ["oxide", nutrient === "P2O5" ? "11-52-0" : "0-0-60"],
    },
    "rate-unit": { text: `In which unit is the rate of ${nutrient}?`, choices: ["lb/ac", "kg/ha"] },
  };
}
