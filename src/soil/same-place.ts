import type { Notice, Question } from "../errors/index.ts";
import type { One, Skipped } from "../formats/index.ts";
import { M_PER_DEG } from "../geo/index.ts";
import { type SoilSample, type SoilTest, TESTS } from "./soil-sample.ts";
import { type DatedRows, visitFinder } from "./visits.ts";

const NEAR_M = 1;

interface Merged {
  readonly samples: readonly SoilSample[];
  /** Those left out, repeats among them. */
  readonly skipped: readonly Skipped[];
  readonly notices: readonly Notice[];
  readonly questions: readonly Question[];
}

/**
 * Samples of one visit (by field, where the rows name it) within 1 m of each other. The same values: the first is kept, with a notice. Different values: the
 * question `same-place`, answered `mean` (test by test), `first` (in file order), `newest` (of the last day) or `drop` (all of
 * them).
 * Order of the file is kept.
 */
export function mergeSamePlace(
  file: string,
  samples: readonly SoilSample[],
  answer: string | undefined,
  one: One = "line",
  days: DatedRows = new Map(),
): Merged {
  const notices: Notice[] = [];
  const questions: Question[] = [];
  const kept: SoilSample[] = [];
  const skipped: Skipped[] = [];
  const different: string[] = [];
  let haveDays = false;
  const skip = (group: readonly SoilSample[], reason: string) => {
    for (const { line } of group) skipped.push({ record: line, reason });
  };
  for (const group of groupByPlace(samples, visitFinder(samples, days))) {
    const first = group[0]!;
    const isSame = group.every((sample) => TESTS.every((test) => sample[test] === first[test]));
    if (group.length === 1) {
      kept.push(first);
      continue;
    }
    const lines = group.map((sample) => sample.line).join(", ");
    const where = `${file}, ${one} ${group.at(-1)!.line}`;
    if (isSame) {
      const message = `${file}, ${one}s ${lines}: the same sample ${group.length} times; one is kept.`;
      notices.push({ code: "sample-repeated", message, where });
      kept.push(first);
      skip(group.slice(1), "repeated");
    } else if (answer === "mean" || answer === "first" || answer === "newest") {
      const taken = answer === "newest" ? newestOf(group, days) : first;
      kept.push(answer === "mean" ? meanOf(group) : taken);
      if (answer !== "mean")
        skip(
          group.filter((sample) => sample !== taken),
          "at the place of another",
        );
      const message = `${file}, ${one}s ${lines}: one place, different values; ${answer} taken.`;
      notices.push({ code: "sample-same-place", message, where });
    } else if (answer === "drop") {
      skip(group, "at the place of another");
      const message = `${file}, ${one}s ${lines}: one place, different values; all left out.`;
      notices.push({ code: "sample-same-place", message, where });
    } else {
      const dates = new Set(group.map(({ line }) => days.get(line)?.date ?? ""));
      haveDays ||= dates.size > 1;
      const dayOf = (line: number): string =>
        dates.size > 1 ? ` (${days.get(line)?.date ?? "no date"})` : "";
      different.push(group.map((s) => `${one} ${s.line}${dayOf(s.line)}: ${testsOf(s)}`).join("; "));
    }
  }
  if (different.length > 0) {
    const text = `Samples at one place differ${different.length > 1 ? `, at ${different.length} places` : ""}. Which value holds?`;
    const seen = `${file}, ${different.slice(0, 4).join("; and ")}`;
    questions.push({
      key: "same-place",
      text,
      choices: ["mean", "first", ...(haveDays ? ["newest"] : []), "drop"],
      seen,
    });
  }
  return { samples: questions.length > 0 ? [] : kept, skipped, notices, questions };
}

/** The first of those of the last day. */
const newestOf = (group: readonly SoilSample[], days: DatedRows): SoilSample =>
  group.reduce((last, sample) =>
    (days.get(sample.line)?.date ?? "") > (days.get(last.line)?.date ?? "") ? sample : last,
  );

const testsOf = (sample: SoilSample): string =>
  TESTS.map((test) => `${test} ${sample[test] ?? "none"}`).join(", ");

function groupByPlace(
  samples: readonly SoilSample[],
  visitOf: (sample: SoilSample) => number,
): SoilSample[][] {
  const cell = NEAR_M / M_PER_DEG;
  const groups: SoilSample[][] = [];
  const byCell = new Map<string, SoilSample[][]>();
  for (const sample of samples) {
    const visit = visitOf(sample);
    const [column, row] = [Math.floor(sample.at[0] / cell), Math.floor(sample.at[1] / cell)];
    let home: SoilSample[] | undefined;
    for (let dx = -2; dx <= 2 && !home; dx++) {
      for (let dy = -1; dy <= 1 && !home; dy++) {
        home = byCell.get(`${visit},${column + dx},${row + dy}`)?.find((group) => isNear(group[0]!, sample));
      }
    }
    if (home) home.push(sample);
    else {
      const group = [sample];
      groups.push(group);
      const key = `${visit},${column},${row}`;
      byCell.set(key, [...(byCell.get(key) ?? []), group]);
    }
  }
  return groups;
}

/** Whether two samples stand within 1 m of each other: at one place. */
export function isNear(one: SoilSample, other: SoilSample): boolean {
  const east = (one.at[0] - other.at[0]) * Math.cos((one.at[1] * Math.PI) / 180);
  return Math.hypot(east, one.at[1] - other.at[1]) * M_PER_DEG <= NEAR_M;
}

function meanOf(group: readonly SoilSample[]): SoilSample {
  const mean = (test: SoilTest): number | null => {
    const values = group.map((sample) => sample[test]).filter((value) => value !== null);
    return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  return { ...group[0]!, P: mean("P"), K: mean("K"), CEC: mean("CEC") };
}
