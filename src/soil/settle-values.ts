import type { Notice, Question } from "../errors/index.ts";
import { type FileAnswers, type NumberMarks, namedOnes, type One } from "../formats/index.ts";
import { counted } from "../units/index.ts";
import { type LabValue, readLabValue } from "./lab-value.ts";
import type { SampleFile } from "./sample-types.ts";
import type { SoilTest } from "./soil-sample.ts";

interface SettledValues {
  /** By test, one a row, in the unit of the file; null for no value. */
  readonly values: ReadonlyMap<SoilTest, readonly (number | null)[]>;
  /** How many values lie outside what the lab can see. */
  readonly censored: number;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

/**
 * The values of the test columns. `<L` counts as half of L and `>U` as U unless `censored` says `limit` or `leave-out`;
 * a value not detected needs `limit.P`; a text that is no number is the question `unreadable-value`. Each is named,
 * and how many there are.
 */
export function settleValues(
  file: SampleFile,
  columns: ReadonlyMap<SoilTest, number>,
  rows: SampleFile["rows"],
  marks: NumberMarks,
  answers: FileAnswers,
): SettledValues {
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const unreadable: { where: string; what: string }[] = [];
  let censored = 0;
  const one: One = file.one ?? "line";
  const values = new Map<SoilTest, (number | null)[]>();
  const outside: (readonly [SoilTest, number])[] = [];
  for (const [test, column] of columns) {
    const before = notices.length;
    const undetected: number[] = [];
    const limit = limitOf(answers[`limit.${test}`]);
    const heading = file.headings[column] ?? test;
    const read = rows.map(({ line, cells }): number | null => {
      const where = `${file.name}, ${one} ${line}`;
      const text = cells[column] ?? "";
      const found = readLabValue(text, marks, `${where}, column ${heading}`);
      if (found.kind === "number") return found.value;
      if (found.kind === "missing") {
        const mark = text.trim() === "" ? "" : ` (${text.trim()})`;
        const message = `${where}: no value for ${test}${mark}; counted as none.`;
        notices.push({ code: "test-missing", message, where });
        return null;
      }
      if (found.kind === "left-out") return null;
      if (found.kind === "unreadable") {
        unreadable.push({ where, what: `${where}, column ${heading}: “${text.trim()}” is not a number.` });
        return null;
      }
      censored += 1;
      if (found.kind === "not-detected" && limit === undefined) {
        undetected.push(line);
        return null;
      }
      const used = valueUsed(found, limit, answers.censored);
      if (used === null) censored -= 1;
      const taken = used === null ? "it is left out" : `${used} is used`;
      const message = `${where}: ${test} “${text.trim()}” is outside what the lab can see; ${taken}.`;
      notices.push({ code: "test-censored", message, where });
      return used;
    });
    values.set(test, read);
    const zeros = rows.filter((_, i) => read[i] === 0).map(({ line }) => line);
    if (zeros.length > 0) {
      const where = `${file.name}, ${namedOnes(one, zeros)}`;
      const message = `${where}: ${test} is 0: 0, or not measured? It counts as 0; leave the cell empty where nothing was measured.`;
      notices.push({ code: "test-zero", message, where: `${file.name}, ${one} ${zeros[0]}` });
    }
    outside.push([test, notices.slice(before).filter(({ code }) => code === "test-censored").length]);
    if (undetected.length > 0) {
      const key = `limit.${test}`;
      const named = namedOnes(one, undetected);
      const text = `What is the least ${test} the lab can see, in the unit of “${heading}”? Or leave-out.`;
      const seen = `${file.name}, ${named}, column “${heading}”: ${rows.find(({ line }) => line === undetected[0])!.cells[column]!.trim()}`;
      questions.push({ key, text, choices: [], seen });
    }
  }
  notices.push(...censoredInAll(file.name, outside, answers.censored));
  if (unreadable.length > 0 && answers["unreadable-value"] !== "leave-out") {
    const text = "What stands there is no number, and formulas are not computed. Leave these values out?";
    const seen = unreadable
      .slice(0, 5)
      .map(({ what }) => what)
      .join(" ");
    questions.push({ key: "unreadable-value", text, choices: ["leave-out"], seen });
  } else {
    for (const { where, what } of unreadable) {
      notices.push({ code: "value-left-out", message: `${what} It is left out.`, where });
    }
  }
  return { values, censored, questions, notices };
}

/** How many values of each test lie outside what the lab can see, where there are several of one. */
function censoredInAll(
  name: string,
  outside: readonly (readonly [SoilTest, number])[],
  censored: string | undefined,
): Notice[] {
  const counts = outside.filter(([, count]) => count > 0);
  if (counts.every(([, count]) => count < 2)) return [];
  const each = counts.map(([test, count], i) =>
    i === 0 ? `${counted(count, "value")} of ${test}` : `${count} of ${test}`,
  );
  const all = [each.slice(0, -1).join(", "), each.at(-1)].filter((part) => part !== "").join(" and ");
  const how =
    censored === "leave-out"
      ? "they are left out"
      : censored === "limit"
        ? "the limit itself is taken"
        : "half of a lower limit is taken, an upper limit itself";
  const message = `${name}: ${all} are outside what the lab can see; ${how}.`;
  return [{ code: "tests-censored", message, where: name }];
}

function limitOf(answer: string | undefined): number | "leave-out" | undefined {
  if (answer === "leave-out") return answer;
  const limit = answer === undefined || answer.trim() === "" ? Number.NaN : Number(answer);
  return Number.isFinite(limit) && limit > 0 ? limit : undefined;
}

function valueUsed(
  found: Exclude<LabValue, { kind: "number" | "missing" | "left-out" | "unreadable" }>,
  limit: number | "leave-out" | undefined,
  censored: string | undefined,
): number | null {
  if (found.kind === "not-detected" && limit === "leave-out") return null;
  if (censored === "leave-out") return null;
  if (found.kind === "above") return found.limit;
  const below = found.kind === "below" ? found.limit : (limit as number);
  return censored === "limit" ? below : below / 2;
}
