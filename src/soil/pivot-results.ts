import { InputError, type Notice, type Question } from "../errors/index.ts";
import type { CoordinateSystemFrom, FileAnswers, One } from "../formats/index.ts";
import type { Point } from "../geo/index.ts";
import type { SampleFile, SampleRow } from "./sample-types.ts";
import { lostSamples } from "./settle-depth.ts";

/** Tests that are shown and change no rate. */
type Shown = "pH" | "bufferPH" | "OM";
const SHOWN: readonly Shown[] = ["pH", "bufferPH", "OM"];
const SHOWN_HEADINGS: Readonly<Record<Shown, string>> = { pH: "pH", bufferPH: "buffer pH", OM: "OM" };

const isShown = (result: LabResult): boolean => SHOWN.some((test) => test === result.test);

/** One result of one sample. */
export interface LabResult {
  readonly line: number;
  readonly sample: string;
  readonly field: string | null;
  /** Position: a place, or the texts of longitude and latitude; null without one. */
  readonly at: Point | readonly [lon: string, lat: string] | null;
  readonly test: "P" | "K" | "CEC" | Shown;
  readonly text: string;
  /** As the file words it; empty without one. */
  readonly unit: string;
  readonly method: string | null;
  /** The lab's own words or code of the method. */
  readonly code: string;
  /** `0-6in`; empty when the file does not say. */
  readonly depth: string;
  /** What stood there for the depth, for messages. */
  readonly depthText: string;
}

export interface Pivoted {
  readonly file: SampleFile;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

interface ResultFile {
  readonly name: string;
  readonly one: One;
  readonly encoding: string;
  readonly placed?: {
    readonly coordinateSystem: string;
    readonly coordinateSystemFrom: CoordinateSystemFrom;
  };
}

/**
 * Results, one a test, as a table with one row a sample. Of several depths the one from the surface is used and the rest
 * named; several from the surface are the question `depth`. A test done by two extractants is the question `method.P`.
 * What is only shown (pH, buffer pH, organic matter) stands in columns of its own, from the same depth where it can.
 * Throws `mixed-units`, `repeated-result`.
 */
export function pivotResults(
  source: ResultFile,
  results: readonly LabResult[],
  answers: FileAnswers,
): Pivoted {
  const all = results.filter((result) => !isShown(result));
  const aside = results.filter(isShown);
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const { name } = source;
  const { depth, kept } = chooseDepth(name, all, answers, questions, notices);
  const methods: Partial<Record<"P" | "K", { method: string | null; code: string }>> = {};
  const tests = (["P", "K", "CEC"] as const).filter((test) => kept.some((result) => result.test === test));
  const used = tests.flatMap((test) => {
    const results = kept.filter((result) => result.test === test);
    const ofMethod = test === "CEC" ? results : chooseMethod(name, test, results, answers, questions);
    if (test !== "CEC") methods[test] = { method: ofMethod[0]!.method, code: ofMethod[0]!.code };
    requireOneUnit(name, test, ofMethod);
    return ofMethod;
  });
  const units = tests.map((test) => used.find((result) => result.test === test)!.unit);
  const shown = SHOWN.filter((test) => aside.some((result) => result.test === test));
  const rows = rowsOf(source, used, tests, shown, [
    ...aside.filter((result) => result.depth === depth),
    ...aside.filter((result) => result.depth !== depth),
  ]);
  const isPlaced = source.placed !== undefined;
  const file: SampleFile = {
    name,
    one: source.one,
    headings: [
      "sample",
      "field",
      ...(isPlaced ? [] : ["longitude", "latitude"]),
      ...tests,
      ...shown.map((test) => SHOWN_HEADINGS[test]),
    ],
    units: ["", "", ...(isPlaced ? [] : ["", ""]), ...units, ...shown.map(() => "")],
    rows,
    encoding: source.encoding,
    ...(source.placed === undefined ? {} : { placed: source.placed }),
    methods,
    depth,
    setAside: all.length - kept.length,
  };
  return { file, questions, notices };
}

function chooseDepth(
  name: string,
  all: readonly LabResult[],
  answers: FileAnswers,
  questions: Question[],
  notices: Notice[],
): { depth: string; kept: readonly LabResult[] } {
  const depths = [...new Set(all.map((result) => result.depth))];
  if (depths.length <= 1) return { depth: depths[0] ?? "", kept: all };
  const fromSurface = depths.filter((depth) => depth.startsWith("0-"));
  const answer = answers.depth ?? "";
  const chosen = depths.includes(answer) ? answer : fromSurface.length === 1 ? fromSurface[0] : undefined;
  const counts = depths.map((depth) => {
    return `${depth || "no depth"} (${all.filter((result) => result.depth === depth).length} results)`;
  });
  if (chosen === undefined) {
    const choices = depths.filter((depth) => depth !== "");
    const text = "Which depth is to be used? The others are left aside.";
    questions.push({ key: "depth", text, choices, seen: `${name}: ${counts.join(", ")}` });
    return { depth: "", kept: all.filter((result) => result.depth === (fromSurface[0] ?? depths[0])) };
  }
  const others = counts.filter((_, index) => depths[index] !== chosen);
  const message = `${name}: ${chosen} used; ${others.join(", ")} set aside.`;
  notices.push({ code: "depth-set-aside", message, where: name });
  const kept = all.filter((result) => result.depth === chosen);
  const keys = new Set(kept.map(sampleKey));
  const lost = [...new Set(all.filter((one) => !keys.has(sampleKey(one))).map(({ sample }) => sample))];
  notices.push(...lostSamples(name, lost, chosen));
  return { depth: chosen, kept };
}

function chooseMethod(
  name: string,
  test: "P" | "K",
  results: readonly LabResult[],
  answers: FileAnswers,
  questions: Question[],
): readonly LabResult[] {
  const words = (result: LabResult) => result.method ?? result.code;
  const methods = [...new Set(results.map(words))];
  if (methods.length === 1) return results;
  const answer = answers[`method.${test}`];
  const chosen = results.filter((result) => words(result) === answer);
  if (chosen.length > 0) return chosen;
  questions.push({
    key: `method.${test}`,
    text: `Soil test ${test} was done in more than one way. Which is to be used?`,
    choices: methods.filter((method) => method !== ""),
    seen: `${name}: ${methods.map((method) => method || "no method").join(", ")}`,
  });
  return results.filter((result) => words(result) === methods[0]);
}

function requireOneUnit(name: string, test: string, results: readonly LabResult[]): void {
  const units = [...new Set(results.map((result) => result.unit.trim().toLowerCase()))];
  if (units.length === 1) return;
  throw new InputError(
    "mixed-units",
    `${name}: ${test} stands in more than one unit: ${units.map((unit) => unit || "none").join(", ")}.`,
    "Ask the lab for one unit a test.",
  );
}

const sampleKey = ({ field, sample, at }: LabResult): string => JSON.stringify([field, sample, at]);

function rowsOf(
  source: ResultFile,
  used: readonly LabResult[],
  tests: readonly string[],
  shown: readonly Shown[],
  aside: readonly LabResult[],
): SampleRow[] {
  const bySample = new Map<string, LabResult[]>();
  for (const result of used) {
    const key = sampleKey(result);
    const own = bySample.get(key) ?? [];
    const other = own.find((one) => one.test === result.test);
    if (other !== undefined) {
      throw new InputError(
        "repeated-result",
        `${source.name}, ${source.one} ${result.line}: ${result.test} of sample ${result.sample} stands at ${source.one} ${other.line} already.`,
        "Keep one result a sample and test, or give the samples ids of their own.",
      );
    }
    bySample.set(key, [...own, result]);
  }
  return [...bySample.values()].map((results): SampleRow => {
    const first = results[0]!;
    const own = aside.filter((result) => sampleKey(result) === sampleKey(first));
    const texts = [
      ...tests.map((test) => results.find((result) => result.test === test)?.text ?? ""),
      ...shown.map((test) => own.find((result) => result.test === test)?.text ?? ""),
    ];
    const head = [first.sample, first.field ?? ""];
    if (source.placed !== undefined) {
      return { line: first.line, cells: [...head, ...texts], at: first.at as Point | null };
    }
    const place = first.at === null ? ["", ""] : first.at.map(String);
    return { line: first.line, cells: [...head, ...place, ...texts] };
  });
}
