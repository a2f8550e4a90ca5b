// Several lab tables: what one file leaves open is not answered by what was said of another.
import { describe, expect, it } from "vitest";
import { type Question, QuestionError } from "../../src/errors/index.ts";
import { isKnownAnswerKey, newPlan, readInput, run } from "../../src/plan/index.ts";
import {
  ANSWERS,
  asList,
  boundary,
  labCsv,
  SAMPLES,
  smallFarmFiles,
  sourceOf,
} from "../support/small-farm.ts";

const utf8 = (text: string) => new TextEncoder().encode(text);
const EAST = [
  [-93.48, 42],
  [-93.4765, 42],
  [-93.4765, 42.0026],
  [-93.48, 42.002],
];
/** The same samples 0.02 degrees east, twice the figures: as lb/ac they are the same ppm. */
const DOUBLED = SAMPLES.map(([id, lon, lat, P, K, cec]) => [
  ...[id!, Number(lon) + 0.02, lat!],
  ...[2 * Number(P), 2 * Number(K), cec!],
]);

function filesWith(headings: string, ofEast = headings): Map<string, Uint8Array> {
  const east = boundary([...EAST, EAST[0]!], "East Forty");
  east.features[0]!.geometry.coordinates.pop();
  return new Map([
    ...smallFarmFiles(),
    ["east.geojson", utf8(JSON.stringify(east))],
    ["lab.csv", utf8(labCsv(SAMPLES, headings))],
    ["east.csv", utf8(labCsv(DOUBLED, ofEast))],
  ]);
}

const BARE = "id,lon,lat,P,K,CEC";
const METHODS = { "method.P": "mehlich-3", "method.K": "mehlich-3" };

const make = (
  files: ReadonlyMap<string, Uint8Array>,
  answers: Readonly<Record<string, string>>,
  mustFit = false,
) => newPlan("farm", "2027-03-20", asList(files), { ...ANSWERS, ...answers }, mustFit);

function questionsOf(...[files, answers, mustFit]: Parameters<typeof make>): readonly Question[] {
  try {
    make(files, answers, mustFit);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions;
    throw error;
  }
  return [];
}

const answersIn = (plan: ReturnType<typeof make>["plan"], path: string) =>
  plan.sources.find((source) => source.path === path)!.answers;

describe("a question that two lab tables raise", () => {
  it("names both with what was seen in each, and has a key for each alone", () => {
    const asked = questionsOf(filesWith(BARE), {});
    expect(asked.map(({ key }) => key)).toEqual(["unit.P", "method.P", "unit.K", "method.K"]);
    expect(asked[0]).toMatchObject({
      text: "In which unit is soil test P? One answer is for lab.csv and east.csv alike.",
      seen: "lab.csv, column “P”: 8, 12, 22; east.csv, column “P”: 16, 24, 44",
      byFile: [
        { key: "unit.P.lab.csv", text: "lab.csv: In which unit is soil test P?" },
        { key: "unit.P.east.csv", seen: "east.csv, column “P”: 16, 24, 44" },
      ],
    });
  });

  it("is asked of the file that is left when one was answered alone, and a key without a file is for all", async () => {
    const bare = filesWith(BARE);
    const ofEast = {
      ...METHODS,
      "depth.east.csv": "0-7in",
      "unit.P.east.csv": "lb/ac",
      "unit.K.east.csv": "lb/ac",
    };
    expect(questionsOf(bare, ofEast)).toMatchObject([
      { key: "unit.P.lab.csv", seen: "lab.csv, column “P”: 8, 12, 22" },
      { key: "unit.K.lab.csv", seen: "lab.csv, column “K”: 95, 120, 150" },
    ]);
    const { plan, recognised } = make(bare, { ...ofEast, "unit.P": "ppm", "unit.K.lab.csv": "ppm" });
    expect(answersIn(plan, "lab.csv")).toMatchObject({ "unit.P": "ppm", "unit.K": "ppm" });
    expect(answersIn(plan, "east.csv")).toMatchObject({ "unit.P": "lb/ac", "unit.K": "lb/ac" });
    expect(recognised.find((line) => line.startsWith("east.csv"))).toMatch(/P from “P” in lb\/ac/);
    // 2 lb/ac are 1 ppm, so both fields have the same samples.
    const { fields } = await run(plan, sourceOf(bare));
    for (const { checked } of fields) {
      expect(checked.samples.map(({ P }) => P)).toEqual(SAMPLES.map(([, , , P]) => P));
      expect(checked.samples.map(({ K }) => K)).toEqual(SAMPLES.map(([, , , , K]) => K));
    }
    // Of a run, too, an answer can be for one of them.
    const again = await run(plan, sourceOf(bare), {
      answers: { "unit.P.lab.csv": "lb/ac", "depth.lab.csv": "0-7in" },
    });
    expect(again.fields.map(({ checked }) => checked.samples[0]!.P).sort()).toEqual([4, 8]);
  });

  it("is asked of each by its own key where the choices differ", () => {
    const files = filesWith(
      "id,lon,lat,P Bray P1 ppm,P Olsen ppm,K ppm",
      "id,lon,lat,P Olsen ppm,P M3 ppm,K ppm",
    );
    const asked = questionsOf(files, { "method.K": "mehlich-3" });
    expect(asked.map(({ key, choices }) => [key, choices])).toEqual([
      ["method.P.lab.csv", ["bray-p1", "olsen"]],
      ["method.P.east.csv", ["olsen", "mehlich-3"]],
    ]);
  });

  it("the order of month and day is answered file by file", () => {
    const dated = (rows: typeof SAMPLES) => rows.map((row) => [...row.slice(0, 5), "03/04/2026"]);
    const heads = "id,lon,lat,P M3 ppm,K M3 ppm,date";
    const files = new Map([
      ...filesWith(BARE),
      ["lab.csv", utf8(labCsv(dated(SAMPLES), heads))],
      ["east.csv", utf8(labCsv(dated(DOUBLED), heads))],
    ]);
    expect(questionsOf(files, {}).map(({ key }) => key)).toContain("date-order");
    const { plan } = make(files, {
      guide: "iowa-2013",
      "date-order": "month-first",
      "date-order.east.csv": "day-first",
    });
    expect(answersIn(plan, "lab.csv")["date-order"]).toBe("month-first");
    expect(answersIn(plan, "east.csv")["date-order"]).toBe("day-first");
  });
});

describe("a question that one of two lab tables raises", () => {
  const files = filesWith("id,lon,lat,P M3 ppm,K M3 ppm,CEC", "id,lon,lat,P ppm,K M3 ppm,CEC");

  it("is asked by that file's own key, and its answer leaves the other as it was", () => {
    expect(questionsOf(files, {}).map(({ key }) => key)).toEqual(["method.P.east.csv"]);
    const { recognised, plan } = make(files, { "method.P.east.csv": "mehlich-3-icp" });
    expect(recognised.find((line) => line.startsWith("lab.csv"))).toMatch(/“P M3 ppm” in ppm, mehlich-3;/);
    expect(answersIn(plan, "lab.csv")).toEqual({});
    expect(answersIn(plan, "east.csv")).toEqual({ "method.P": "mehlich-3-icp" });
  });

  it("so is the laboratory's finish where a guide wants it", () => {
    const answers = { guide: "iowa-2013", "method.P.east.csv": "mehlich-3-icp" };
    expect(questionsOf(files, answers, true)).toMatchObject([
      { key: "method.P.lab.csv", seen: "Low Forty: lab.csv, column “P M3 ppm”" },
    ]);
    const both = filesWith("id,lon,lat,P M3 ppm,K M3 ppm,CEC");
    expect(questionsOf(both, { guide: "iowa-2013" }, true)).toMatchObject([
      { key: "method.P", seen: expect.stringMatching(/lab\.csv, column .*; East Forty: east\.csv, column /) },
    ]);
  });
});

it("a key with a file behind it is known for what is asked of files, and a file read by itself takes it", () => {
  for (const key of ["method.P.labB.csv", "limit.K.a.b.csv", "date-order.x"])
    expect(isKnownAnswerKey(key)).toBe(true);
  for (const key of ["changed-file.lab.csv", "method.P.", "method.Q.lab.csv", "rows.lab.csv"])
    expect(isKnownAnswerKey(key)).toBe(false);
  const { questions } = readInput("lab.csv", new Map([["lab.csv", utf8(labCsv(SAMPLES, BARE))]]), {
    answers: { ...METHODS, depth: "0-6in", "unit.P.lab.csv": "ppm", "unit.K.other.csv": "ppm" },
  });
  expect(questions.map(({ key }) => key)).toEqual(["unit.K"]);
});
