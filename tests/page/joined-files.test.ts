// Files dropped on an open plan: what the plan's own files are is not asked again.
import { describe, expect, it } from "vitest";
import { planFolder } from "../../app/src/engine/carry-off.ts";
import { readFiles } from "../../app/src/engine/read-files.ts";
import { type Dropped, recognise } from "../../app/src/engine/recognise.ts";
import { QuestionError } from "../../src/errors/index.ts";
import { newPlan, writePlan } from "../../src/plan/index.ts";
import { rectangles } from "../support/need-plan.ts";
import { ANSWERS, asList, boundary, labCsv, SAMPLES, smallFarmFiles } from "../support/small-farm.ts";

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

it("a lab table that joins is asked about itself, and not read by what was answered for the plan's", () => {
  const bare = "id,lon,lat,P,K,CEC";
  const given = new Map([...smallFarmFiles(), ["lab.csv", bytes(labCsv(SAMPLES, bare))]]);
  const read = { "method.P": "mehlich-3", "method.K": "mehlich-3", "unit.P": "ppm", "unit.K": "ppm" };
  const { plan: of } = newPlan("farm", "2027-03-20", asList(given), { ...ANSWERS, ...read });
  const open = {
    plan: of,
    files: [...given].map(([path, own]) => [path, own as Uint8Array<ArrayBuffer>] as const),
  };
  const doubled = SAMPLES.map(([id, lon, lat, P, ...rest]) => [id!, lon!, lat!, 2 * Number(P), ...rest]);
  const more = ["more.csv", bytes(labCsv(doubled, bare))] as const;
  const join = (answers: Dropped["answers"]) =>
    recognise({ name: "farm", date: "2027-03-20", files: [more], answers, joins: open });
  let asked: readonly string[] = [];
  try {
    join({});
  } catch (error) {
    if (!(error instanceof QuestionError)) throw error;
    asked = error.questions.map(({ key }) => key);
  }
  expect(asked).toEqual(["unit.P", "method.P", "unit.K", "method.K"].map((key) => `${key}.more.csv`));
  expect(readFiles([more], {}, open)[0]!.asked).toContain("unit.P");
  const answers = Object.fromEntries(Object.entries(read).map(([key, one]) => [`${key}.more.csv`, one]));
  const joined = join({
    ...answers,
    "unit.P.more.csv": "lb/ac",
    "depth.more.csv": "0-7in",
    samples: "more.csv",
  });
  const answersOf = (path: string) => joined.plan.sources.find((one) => one.path === path)!.answers;
  expect(answersOf("lab.csv")).toMatchObject({ "unit.P": "ppm" });
  expect(answersOf("more.csv")).toMatchObject({ "unit.P": "lb/ac", depth: "0-7in" });
});

describe("a dropped file whose name the plan has", () => {
  const open = { plan, files };
  const give = (given: Dropped["files"], answers: Dropped["answers"] = {}) =>
    recognise({ name: "farm", date: "2027-03-20", files: given, answers, joins: open });
  const east = (places: readonly (readonly (string | number)[])[]) =>
    places.map(([id, lon, ...rest]) => [id!, Number(lon) + 0.02, ...rest]);
  const halved = bytes(
    labCsv(SAMPLES.map(([id, lon, lat, P, K, CEC]) => [id!, lon!, lat!, Number(P) / 2, K!, CEC!])),
  );
  const question = (given: Dropped["files"]) => {
    try {
      give(given);
    } catch (error) {
      if (error instanceof QuestionError) return error.questions;
      throw error;
    }
    return [];
  };

  it("of another field's ground it keeps its own bytes under a number, and the plan keeps its own", () => {
    const shifted = boundary(
      [
        [-93.48, 42],
        [-93.4765, 42],
        [-93.4765, 42.0026],
        [-93.48, 42.002],
        [-93.48, 42],
      ],
      "East Forty",
    );
    shifted.features[0]!.geometry.coordinates.pop();
    const lab = bytes(labCsv(east(SAMPLES)));
    const joined = give(
      [
        ["east.geojson", bytes(JSON.stringify(shifted))],
        ["lab.csv", lab],
      ],
      { crop: "corn", yield: "180", guide: "tri-state-2020" },
    );
    expect(joined.change).toBe("1 field added");
    expect(joined.plan.fields.map(({ samples }) => samples)).toEqual(["lab.csv", "lab-2.csv"]);
    const held = new Map(joined.files);
    expect(held.get("lab.csv")).toEqual(new Map(files).get("lab.csv"));
    expect(held.get("lab-2.csv")).toEqual(lab);
    expect(() => planFolder(joined.plan, held)).not.toThrow();
    expect(joined.notices.map(({ code }) => code)).not.toContain("choices-taken");
    expect(readFiles([["lab.csv", lab]], {}, open)[0]).toMatchObject({
      path: "lab-2.csv",
      beside: "the plan keeps its own lab.csv; this one is named lab-2.csv",
    });
  });

  it("with the same bytes it does nothing, under whatever name", () => {
    const own = new Map(files).get("lab.csv")!;
    const joined = give([["copy.csv", own]]);
    expect(joined).toMatchObject({ plan, files, change: "", notices: [] });
    expect(readFiles([["copy.csv", own]], {}, open)[0]).toMatchObject({
      path: "lab.csv",
      beside: "the plan has this file already (dropped as copy.csv)",
      isLeft: true,
    });
  });

  it("with other bytes on the same ground it asks, and neither answer is likely", () => {
    expect(question([["lab.csv", halved]])).toEqual([
      {
        key: "same-name.lab-2.csv",
        text: "The plan has lab.csv (9 rows); the lab.csv dropped (9 rows) is another. Does it replace the plan's? It is named lab-2.csv here either way, so that an Undo has both.",
        choices: ["replace:lab.csv", "beside"],
        seen: "",
      },
    ]);
  });

  it("replaces it when that is answered; the plan before still has its bytes", () => {
    const joined = give([["lab.csv", halved]], { "same-name.lab-2.csv": "replace:lab.csv" });
    expect(joined.change).toBe("lab.csv replaced by lab-2.csv");
    expect(joined.plan.fields).toEqual([{ ...plan.fields[0], samples: "lab-2.csv" }]);
    expect(joined.plan.sources.map(({ path }) => path).sort()).toEqual([
      "boundary.geojson",
      "lab-2.csv",
      "line.geojson",
    ]);
    expect(new Map(joined.files).get("lab.csv")).toEqual(new Map(files).get("lab.csv"));
    const saved = planFolder(joined.plan, new Map(joined.files));
    expect(saved.bytes.length).toBeGreaterThan(0);
    // Once more the same: now the plan has it.
    const again = recognise({
      ...{ name: "farm", date: "2027-03-20", files: [["lab.csv", halved]], answers: {} },
      joins: { plan: joined.plan, files: joined.files },
    });
    expect(again.change).toBe("");
  });

  it("stands beside it when that is answered: the field takes what the notice says", () => {
    const joined = give([["lab.csv", halved]], {
      "same-name.lab-2.csv": "beside",
      samples: "lab-2.csv",
    });
    expect(joined.change).toBe("lab-2.csv added");
    expect(joined.plan.fields[0]!.samples).toBe("lab-2.csv");
  });

  it("two of one name in one drop are both there; the same twice is once", () => {
    const far = bytes(labCsv(east(SAMPLES)));
    const paths = (given: Dropped["files"]) => readFiles(given, {}).map(({ path }) => path);
    expect(
      paths([
        ["results.csv", halved],
        ["results.csv", far],
      ]),
    ).toEqual(["results.csv", "results-2.csv"]);
    expect(
      paths([
        ["results.csv", halved],
        ["results.csv", halved],
      ]),
    ).toEqual(["results.csv"]);
  });

  it("a saved plan takes the bytes it names, whatever else has the name", () => {
    const opened = recognise({
      ...{ name: "farm", date: "2027-03-20", answers: {}, joins: null },
      files: [["lab.csv", halved], ["plan.json", bytes(new TextDecoder().decode(writePlan(plan)))], ...files],
    });
    expect(opened.asSaved).toBe(true);
    expect(new Map(opened.files).get("lab.csv")).toEqual(new Map(files).get("lab.csv"));
  });
});

describe("a table of which nothing can be made", () => {
  const empty = ["lab-empty.csv", bytes("Report of the lab\nnothing here\n")] as const;
  const said = "nothing says what lab-empty.csv is for (Report of the lab)";

  it("alone on an open plan adds nothing and is no edit", () => {
    const alone = { name: "farm", date: "2027-03-20", files: [empty], answers: {}, joins: { plan, files } };
    const { change, plan: of, files: kept } = recognise(alone);
    expect(change).toBe("");
    expect(of).toEqual(plan);
    expect(kept).toEqual(files);
  });

  it("beside the files of a plan is no part of it, and its line says why", () => {
    const given = [...files, empty];
    const made = recognise({ name: "farm", date: "2027-03-20", files: given, answers: ANSWERS, joins: null });
    expect(made.plan.sources.map(({ path }) => path)).not.toContain("lab-empty.csv");
    expect(made.files.map(([path]) => path)).toEqual(files.map(([path]) => path));
    const unfit = readFiles(given, ANSWERS).map((one) => [one.path, one.unfit]);
    expect(unfit).toEqual([...files.map(([path]) => [path, ""]), ["lab-empty.csv", said]]);
  });
});
