// Files dropped on an open plan: what the plan's own files are is not asked again.
import { expect, it } from "vitest";
import { type Dropped, recognise } from "../../app/src/engine/recognise.ts";
import { QuestionError } from "../../src/errors/index.ts";
import { newPlan } from "../../src/plan/index.ts";
import { rectangles } from "../support/need-plan.ts";
import { ANSWERS, asList, smallFarmFiles } from "../support/small-farm.ts";

const bytes = (text: string) => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
const files = [...smallFarmFiles()].map(([path, own]) => [path, own as Uint8Array<ArrayBuffer>] as const);
const { plan } = newPlan("farm", "2027-03-20", asList(smallFarmFiles()), ANSWERS);
const zones = bytes(
  rectangles([
    [-93.501, 41.999, -93.498, 42.004, { ZONE: "W1" }],
    [-93.498, 41.999, -93.496, 42.004, { ZONE: "7" }],
  ]),
);
const drop = (answers: Dropped["answers"]) =>
  recognise({
    name: "farm",
    date: "2027-03-20",
    files: [["zones.geojson", zones]],
    answers,
    joins: { plan, files },
  } as Dropped);

it("zones become where an open plan's field takes its need from; only the new file is asked about", () => {
  let asked: readonly string[] = [];
  try {
    drop({});
  } catch (error) {
    if (!(error instanceof QuestionError)) throw error;
    asked = error.questions.map(({ key }) => key);
  }
  expect(asked).toEqual(["role.zones.geojson"]);
  const joined = drop({ "role.zones.geojson": "zones" });
  expect(joined.plan.fields).toHaveLength(1);
  expect(joined.plan.fields[0]).toEqual({
    ...plan.fields[0],
    needFrom: { kind: "zones", source: "zones.geojson", idColumn: "ZONE" },
  });
  expect(joined.plan.sources.map(({ path, as }) => `${path} ${as}`)).toContain("zones.geojson zones");
});
