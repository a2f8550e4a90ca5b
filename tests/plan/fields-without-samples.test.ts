import { describe, expect, it } from "vitest";
import { type Question, QuestionError } from "../../src/errors/index.ts";
import { newPlan } from "../../src/plan/index.ts";
import {
  ANSWERS,
  asList,
  type boundary,
  labCsv,
  SAMPLES,
  smallFarmFiles,
  withFile,
} from "../support/small-farm.ts";

/** Low Forty with samples and a second field east of it that the table has nothing of. */
function twoFields(headings?: string, rows = SAMPLES): { path: string; bytes: Uint8Array }[] {
  const files = smallFarmFiles();
  const one = JSON.parse(new TextDecoder().decode(files.get("boundary.geojson"))) as ReturnType<
    typeof boundary
  >;
  const east = structuredClone(one.features[0]!);
  east.properties.FIELD = "Far Twenty";
  east.geometry.coordinates = east.geometry.coordinates.map((ring) =>
    ring.map(([lon, lat]) => [lon! + 0.02, lat!]),
  );
  const both = JSON.stringify({ ...one, features: [...one.features, east] });
  return asList(withFile(withFile(files, "boundary.geojson", both), "lab.csv", labCsv(rows, headings)));
}

const make = (files: ReturnType<typeof twoFields>, answers: Readonly<Record<string, string>>) =>
  newPlan("farm", "2027-03-20", files, answers, true);

function questionsOf(files: ReturnType<typeof twoFields>, answers: Readonly<Record<string, string>>) {
  try {
    make(files, answers);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions;
    throw error;
  }
  return [] as readonly Question[];
}

const BRAY = "id,lon,lat,P Bray 1 ppm,K NH4OAc ppm,CEC meq/100g";
const OF_GUIDE = { ...ANSWERS, guide: "illinois", "option.pSupply": "high" };

describe("a field of a new plan without samples", () => {
  it("is no reason to ask for another guide, and is told with the table that was looked at", () => {
    const { plan, notices } = make(twoFields(BRAY), OF_GUIDE);
    expect(plan.fields.map(({ name }) => name)).toEqual(["Low Forty", "Far Twenty"]);
    expect(notices.find(({ code }) => code === "field-without-samples")).toEqual({
      code: "field-without-samples",
      message:
        "Far Twenty: no soil sample lies in this field and no row names it (looked at: lab.csv); it stays in the plan and cannot be worked out before it has a lab table, zones or rates; or take it out of plan.json.",
      where: "far-twenty",
    });
  });

  it("does not narrow the guides that are offered", () => {
    const { guide: _, ...open } = ANSWERS;
    const asked = questionsOf(twoFields(BRAY), open).find(({ key }) => key === "guide")!;
    expect(asked.choices).toContain("illinois");
  });

  it("is told of rows that name it and lie elsewhere", () => {
    const rows = SAMPLES.map((row) => [...row, "Low Forty"]);
    const away = [10, -93.4, 42.4, 20, 140, 17, "Far Twenty"];
    const { notices } = make(twoFields(`${BRAY},Field`, [...rows, away]), OF_GUIDE);
    expect(notices.find(({ code }) => code === "field-without-samples")!.message).toMatch(
      /^Far Twenty: no soil sample lies in this field, and the 1 row that names it lies elsewhere \(looked at: lab\.csv\);/,
    );
  });
});

describe("a guide that does not read the samples of one field among several", () => {
  const rows = (cecOfFar: string) => [
    ...SAMPLES,
    ...SAMPLES.map(([id, lon, lat, P, K]) => [Number(id) + 20, Number(lon) + 0.02, lat!, P!, K!, cecOfFar]),
  ];

  it("is asked for that field by its own key", () => {
    const files = twoFields(BRAY, rows(""));
    const [question, ...more] = questionsOf(files, OF_GUIDE);
    expect(more).toEqual([]);
    expect(question).toMatchObject({ key: "guide.far-twenty" });
    expect(question!.seen).toMatch(/^Far Twenty: lab\.csv/);
    expect(questionsOf(files, { ...OF_GUIDE, "guide.far-twenty": question!.choices[0]! })).toEqual([]);
  });

  it("is asked once for all of them where it reads none", () => {
    const none = rows("").map((row) => [...row.slice(0, 5), ""]);
    expect(questionsOf(twoFields(BRAY, none), OF_GUIDE).map(({ key }) => key)).toEqual(["guide"]);
  });
});
