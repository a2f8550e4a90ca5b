import {
  type Answers,
  columnKey,
  leaveOutKey,
  mendKey,
  methodInWords,
  type Plan,
  type TestMethod,
} from "#core";
import type { BadRow } from "../engine/read-files.ts";
import type { Change } from "./plan-edits.ts";

/** What was answered about the files of a plan, all together. */
export const standingAnswers = (plan: Plan | null): Answers =>
  Object.assign({}, ...(plan?.sources ?? []).map((source) => source.answers));

const place = ({ path, line, heading }: BadRow): string =>
  `${path} line ${line}${heading === null ? "" : `, ${heading}`}`;

/** A value typed again: the file stays as it is, the plan says what is read in its place. */
export const withValue = (plan: Plan, row: BadRow, value: string): Change => ({
  name: `${place(row)}: ${row.value === "" ? "" : `“${row.value}” `}→ ${value}`,
  plan: answered(plan, row.path, mendKey(row.path, row.line, row.heading ?? ""), value),
});

export const withoutRow = (plan: Plan, row: BadRow, reason: string): Change => ({
  name: `${row.path} line ${row.line} left out: ${reason}`,
  plan: answered(plan, row.path, leaveOutKey(row.path, row.line), reason),
});

/** What a column is, chosen by hand; null: as its heading says. */
export const withColumn = (plan: Plan, path: string, heading: string, answer: string | null): Change => ({
  name: `${path}, column ${heading} → ${answer === null ? "as its heading says" : answer === "other" ? "not used" : answer}`,
  plan: answered(plan, path, columnKey(path, heading), answer),
});

/** How the laboratory did a test, where the file does not say it in full. */
export const withMethod = (plan: Plan, path: string, test: "P" | "K", method: TestMethod): Change => ({
  name: `${path}: soil ${test} is ${methodInWords(method)}`,
  plan: answered(plan, path, `method.${test}`, method),
});

/** As the file has it. */
export const withoutMend = (plan: Plan, row: BadRow): Change => ({
  name: `${place(row)} as in the file`,
  plan: answered(plan, row.path, row.mended ?? "", null),
});

function answered(plan: Plan, path: string, key: string, value: string | null): Plan {
  const sources = plan.sources.map((source) => {
    if (source.path !== path || source.as !== "samples") return source;
    const { [key]: _, ...others } = source.answers;
    return { ...source, answers: value === null ? others : { ...others, [key]: value } };
  });
  return { ...plan, sources };
}
