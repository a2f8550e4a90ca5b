// Two laboratories, two extractants: what was said of one test does not stand on a field with another.
import { describe, expect, it } from "vitest";
import { type Question, QuestionError } from "../../src/errors/index.ts";
import { isKnownAnswerKey, newPlan, run } from "../../src/plan/index.ts";
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
const EAST: [number, number][] = [
  [-93.48, 42],
  [-93.4765, 42],
  [-93.4765, 42.0026],
  [-93.48, 42.002],
];

function filesOf(ofLow: string, ofEast: string): Map<string, Uint8Array> {
  const east = boundary([...EAST, EAST[0]!], "East Forty");
  east.features[0]!.geometry.coordinates.pop();
  const moved = SAMPLES.map(([id, lon, ...rest]) => [id!, Number(lon) + 0.02, ...rest]);
  const heads = (test: string) => `id,lon,lat,P ${test} ppm,K M3 ppm,CEC`;
  return new Map([
    ...smallFarmFiles(),
    ["east.geojson", utf8(JSON.stringify(east))],
    ["lab.csv", utf8(labCsv(SAMPLES, heads(ofLow)))],
    ["east.csv", utf8(labCsv(moved, heads(ofEast)))],
  ]);
}

const files = filesOf("Bray P1", "Olsen");
const make = (answers: Readonly<Record<string, string>>, of = files) =>
  newPlan("farm", "2027-03-20", asList(of), { ...ANSWERS, ...answers }, true);

function asked(answers: Readonly<Record<string, string>>, of = files): readonly Question[] {
  try {
    make(answers, of);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions;
    throw error;
  }
  return [];
}

const standing = (...args: Parameters<typeof make>) =>
  Object.fromEntries(make(...args).plan.fields.map(({ id, nutrients }) => [id, nutrients?.P2O5]));
const RATIO = "tri-state-bray-to-mehlich-3-ratio";

describe("ways through a guide where fields have several extractants", () => {
  it("are asked of each field by its own key, a conversion by the key for all where it leads from one test alone", () => {
    const [low, east, ...others] = asked({});
    expect(others).toEqual([]);
    expect([low!.key, east!.key]).toEqual(["guide.low-forty", "guide.east-forty"]);
    expect(low!.text).toContain(`conversion.P=${RATIO} (`);
    expect(low!.text).toContain("critical-level.P.low-forty=PPM, a level of your own for Bray P1.");
    expect(east!.text).toContain("critical-level.P.east-forty=PPM, a level of your own for Olsen.");
    expect(east!.text).not.toContain("conversion");
  });

  it("a critical level for all stands on none of them, and that is said", () => {
    const open = asked({ "critical-level.P": "10" });
    expect(open.map(({ key }) => key)).toEqual(["guide.low-forty", "guide.east-forty"]);
    expect(open[1]!.text).toContain(
      "critical-level.P=10 does not stand on East Forty: a level is of one test, and it was said for Bray P1 and Olsen alike.",
    );
  });

  it("a conversion stands where it leads from the test, and the other field is asked about as before", () => {
    for (const more of [{}, { "critical-level.P": "10" }]) {
      const open = asked({ "conversion.P": RATIO, ...more });
      expect(open.map(({ key }) => key)).toEqual(["guide.east-forty"]);
      expect(open[0]!.text).toContain(
        `conversion.P=${RATIO} leads from Bray P1 to Mehlich-3: it does not stand on East Forty.`,
      );
    }
    const own = asked({ "conversion.P.east-forty": RATIO, "critical-level.P.low-forty": "20" });
    expect(own.map(({ key }) => key)).toEqual(["guide.east-forty"]);
  });

  it("stand by field as answered, are told so by field, and the plan can be worked out", async () => {
    const answers = { "conversion.P": RATIO, "critical-level.P.east-forty": "14" };
    expect(standing(answers)).toEqual({
      "low-forty": { conversion: RATIO },
      "east-forty": { criticalLevelPpm: 14 },
    });
    const { plan, notices } = make(answers);
    expect(notices.filter(({ code }) => code === "way-through-taken").map(({ message }) => message)).toEqual([
      `conversion.P=${RATIO} stands on Low Forty (Bray P1)`,
      "critical-level.P.east-forty=14 ppm stands on East Forty (Olsen)",
    ]);
    expect((await run(plan, sourceOf(files))).refused).toEqual([]);
  });

  it("stand on all fields of one test, which one question names", () => {
    const olsen = filesOf("Olsen", "Olsen");
    const [question, ...others] = asked({}, olsen);
    expect(others).toEqual([]);
    expect(question).toMatchObject({
      key: "guide",
      text: expect.stringContaining(
        "critical-level.P=PPM, a level of your own for Olsen (on all 2 fields with that test;",
      ),
      seen: "Low Forty: lab.csv, column “P Olsen ppm”; East Forty: east.csv, column “P Olsen ppm”",
    });
    expect(standing({ "critical-level.P": "10", "critical-level.P.east-forty": "12" }, olsen)).toEqual({
      "low-forty": { criticalLevelPpm: 10 },
      "east-forty": { criticalLevelPpm: 12 },
    });
    // Beside Mehlich-3, which the guide takes, Olsen is the one test that was asked about.
    expect(standing({ "critical-level.P": "10" }, filesOf("M3", "Olsen"))).toEqual({
      "low-forty": undefined,
      "east-forty": { criticalLevelPpm: 10 },
    });
    // Nobody asked, and the guide reads both.
    expect(standing({ guide: "iowa-2013", "critical-level.P": "10" })).toEqual({});
  });

  it("have keys that are known", () => {
    for (const key of ["critical-level.P.miller-east", "conversion.K.back-40", "conversion.P"])
      expect(isKnownAnswerKey(key)).toBe(true);
    for (const key of ["critical-level.P.", "conversion.Q.back-40"])
      expect(isKnownAnswerKey(key)).toBe(false);
  });
});
