/// <reference path="../../app/src/globals.d.ts" />
// A plan folder with a ledger, opened and saved on the page: what is finished stays finished there too.
import { expect, it, vi } from "vitest";
import { type Dropped, recognise } from "../../app/src/engine/recognise.ts";
import { sourceOf } from "../../app/src/engine/source-of.ts";
import { readZip } from "../../src/formats/index.ts";
import { ledgerAddition } from "../../src/ledger/index.ts";
import { run, writePlan } from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

vi.stubGlobal("__TOOL_VERSION__", "0");
const { planFolder } = await import("../../app/src/engine/carry-off.ts");
const { seasonTold } = await import("../../app/src/engine/season-desk.ts");
const plan = seasonPlanDocument();
const id = plan.fields[0]!.id;
const ledger = ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-18", {
  kind: "finished",
  fieldId: id,
  pass: "strip",
});
const open = (folder: string, files: ReadonlyMap<string, Uint8Array>) =>
  recognise({
    ...{ name: "farm", date: "2027-04-19", answers: {}, joins: null },
    files: [...files].map(([path, bytes]) => [folder + path, bytes]),
  } as Dropped);

it("the ledger beside the plan is opened with it, freezes its field and is saved with it", async () => {
  const files = new Map([["plan.json", writePlan(plan)], ...smallFarmFiles(), ["ledger.txt", ledger]]);
  for (const folder of ["", "plan/", "last week/"]) {
    const opened = open(folder, files);
    expect(opened.files.at(-1)).toEqual(["ledger.txt", ledger]);
    const result = await run(opened.plan, sourceOf(new Map(opened.files)));
    expect(result.fields[0]!.finished).toEqual([{ pass: "strip", date: "2027-04-18" }]);
    const saved = readZip(planFolder(opened.plan, new Map(opened.files)).bytes, "saved.zip");
    expect(saved.files.get("ledger.txt")).toEqual(ledger);
  }
});

it("without one nothing is finished, and none is saved", async () => {
  const opened = open("", new Map([["plan.json", writePlan(plan)], ...smallFarmFiles()]));
  expect((await run(opened.plan, sourceOf(new Map(opened.files)))).stands[0]).toMatchObject({
    frozen: false,
  });
  expect([
    ...readZip(planFolder(opened.plan, new Map(opened.files)).bytes, "saved.zip").files.keys(),
  ]).not.toContain("ledger.txt");
});

it("fills of a field that the ledger has as begun are said to be of all of it, until the rig's stand is given", async () => {
  const strips = ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-18", {
    ...{ kind: "placed", fieldId: id, pass: "strip", product: "11-52-0", lb: 900, areaAc: 7.5 },
    ...{ map: "", revision: "", p2o5Lb: 468, k2oLb: 0, from: "typed" },
  });
  const files = new Map([["plan.json", writePlan(plan)], ...smallFarmFiles(), ["ledger.txt", strips]]);
  const result = await run(plan, sourceOf(files));
  const told = (stand: { readonly passesDone: number; readonly scaleLb: readonly number[] } | null) =>
    seasonTold(result, { kind: "fills", field: id, stand, system: "us" }, files);
  expect(await told(null)).toMatchObject({
    begun: expect.stringMatching(
      /by the ledger 7\.5 of [\d.]+ ac are stripped; these stops are of the whole field/,
    ),
  });
  const scaleLb = plan.rig.bins.map(() => 900);
  expect(await told({ passesDone: 3, scaleLb })).toMatchObject({ begun: "" });
});

it("what reading a log left out is told beside what is made of the rest", async () => {
  const files = new Map([["plan.json", writePlan(plan)], ...smallFarmFiles()]);
  const result = await run(plan, sourceOf(files));
  const csv = logCsv(driveField(result.plan, result.fields[0]!, 0), "11-52-0").split("\n");
  const [heads = "", ...rows] = csv;
  const at = heads.split(",").findIndex((head) => head.startsWith("Applied"));
  const blank = rows.map((row, i) =>
    i > 40 && i < 60
      ? row
          .split(",")
          .map((cell, column) => (column === at ? "" : cell))
          .join(",")
      : row,
  );
  const log = new TextEncoder().encode([heads, ...blank].join("\n"));
  const told = await seasonTold(
    result,
    {
      ...{ kind: "applied", field: id, isSaved: false },
      logs: [{ product: "11-52-0", name: "log.csv", files: [["log.csv", log]] }],
    },
    files,
  );
  if (told.kind !== "applied") throw new Error(told.kind);
  expect(told.notices[0]!.message).toMatch(/^11-52-0: .*lines 43, 44, 45.* left out: no applied rate/);
});
