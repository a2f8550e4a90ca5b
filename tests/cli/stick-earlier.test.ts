// Two fields on one stick: what stays of one while the other is written, and what the sheet says of a map that is of an earlier plan.
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Plan, type PlanController, run, writePlan } from "../../src/plan/index.ts";
import { buildFiles, type Stick } from "../../src/publish/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { sheetCells } from "../support/sheet-cells.ts";
import { sourceOf } from "../support/small-farm.ts";
import { twoFields } from "../support/two-fields.ts";

const base = mkdtempSync(join(tmpdir(), "stick-earlier-test-"));
const [dir, usb] = [join(base, "maps"), join(base, "usb")];

async function build(more: Partial<Plan> = {}, controller: PlanController = { zeroRate: "off" }) {
  const { plan, files } = twoFields(more, controller);
  const result = await run(plan, sourceOf(files));
  return buildFiles(result, "0.0.1", new Map([...files, ["plan.json", writePlan(plan)]]));
}

function put(files: ReadonlyMap<string, Uint8Array>): void {
  rmSync(dir, { recursive: true, force: true });
  for (const [path, bytes] of files) {
    mkdirSync(dirname(join(dir, path)), { recursive: true });
    writeFileSync(join(dir, path), bytes);
  }
}

const lessCap = { split: { capLbPerAc: 100, capBasis: "field-mean", within: "alike" } } as const;
let [first, changed]: ReadonlyMap<string, Uint8Array>[] = [];
beforeAll(async () => {
  [first, changed] = [await build(), await build(lessCap)];
});
beforeEach(() => {
  put(first!);
  rmSync(`${dir}.stick.json`, { force: true });
  rmSync(usb, { recursive: true, force: true });
  mkdirSync(usb);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const stick = (...more: string[]) => cli("stick", dir, "--to", usb, ...more);
const stickJson = (): Stick => JSON.parse(readFileSync(join(usb, "stick.json"), "utf8"));
const poundsIn = (build: ReadonlyMap<string, Uint8Array>, stem: string): string => {
  const { prescriptions } = JSON.parse(new TextDecoder().decode(build.get("result.json")!)) as {
    prescriptions: { totalLb: number; files: { path: string }[] }[];
  };
  const map = prescriptions.find(({ files }) => files[0]!.path.includes(`${stem}.`))!;
  return Math.round(map.totalLb).toLocaleString("en-US");
};
const shapes = (): string[] =>
  readdirSync(usb)
    .filter((name) => name.endsWith(".shp"))
    .sort();
const stickSheetName = (): string => `CAB_${stickJson().revision}.html`;
const ASIDE = ["--answer", "existing-taskdata=move-aside"] as const;
const KEEP = ["--answer", "existing-taskdata=keep"] as const;

describe("a field that is marked loaded, and a plan that was changed", () => {
  test("the sheet has the old file with its own pounds and none of the new map's, command and sheet say what the build reckons with", async () => {
    expect((await stick()).exit).toBe(0);
    await cli("stick", dir, "--mark", "low-forty=loaded");
    put(changed!);
    const told = await stick(...ASIDE);
    expect(told.exit).toBe(0);
    const [old, now] = [poundsIn(first!, "LOWFORTY_R_0060"), poundsIn(changed!, "LOWFORTY_R_0060")];
    expect(old).not.toBe(now);
    const words = `LOWFORTY_R_0060_A ${old} lb, now ${now} lb): fills and broadcast maps of this build reckon with its new strip maps, not with those`;
    const sheet = sheetCells(join(usb, "CAB_B.html"));
    for (const text of [told.error, told.out, sheet]) expect(text).toContain(words);
    // The sheet that was loaded with it holds for it, and so is not among what is not to be loaded.
    expect(told.out).toContain("CAB_A.html holds for them, not this one:");
    expect(sheet).toContain("passes, rates and checks are on CAB_A.html");
    expect(told.out).not.toMatch(/not to be loaded:(\n {2}.*)*\n {2}CAB_A\.html/);
    expect(sheet).not.toMatch(/do not load:[^<]*CAB_A/);
    expect(told.out).toMatch(
      /Of an earlier plan, as they were loaded[^\n]*\n(?: {2}LOWFORTY_L[^\n]*\n)? {2}LOWFORTY_R_0060_A/,
    );
    const row = /<td>LOWFORTY_R_0060_A<\/td><td class="n">([\d,]+)<\/td>/g;
    expect([...sheet.matchAll(row)].map(([, lb]) => lb)).toEqual([old]);
    expect(sheet).toContain("The maps of Low Forty on this stick are of an earlier plan");
    // Twin's task alone is on the stick, and on the sheet.
    const tasks = readFileSync(join(usb, "TASKDATA/TASKDATA.XML"), "utf8");
    for (const text of [tasks, sheet]) {
      expect(text).toContain("TWIN strip 11-52-0 0-0-60");
      expect(text).not.toContain("LOWFORTY strip");
    }
    // Of the page with fills and plat of the new map nothing is left.
    expect(sheet.match(/data-field="low-forty"/g)).toHaveLength(2);
    expect(
      stickJson()
        .maps.filter(({ ofEarlierPlan }) => ofEarlierPlan)
        .map(({ name }) => name),
    ).toContain("LOWFORTY_R_0060_A");
    const check = await cli("check", usb);
    expect([check.exit, check.out]).toEqual([
      0,
      expect.stringContaining("; CAB_A.html holds for the maps of"),
    ]);
    expect(check.out).not.toMatch(/not to be loaded:.*CAB_A/);
  });

  test("task data alone: the field is told by its task, not by a map's name that no stick ever had", async () => {
    const tasks: PlanController = { zeroRate: "off", loads: ["taskdata-4"] };
    put(await build({}, tasks));
    expect((await stick()).exit).toBe(0);
    await cli("stick", dir, "--mark", "low-forty=loaded");
    put(await build(lessCap, tasks));
    const told = await stick(...ASIDE);
    const [old, now] = [poundsIn(first!, "LOWFORTY_R_0060"), poundsIn(changed!, "LOWFORTY_R_0060")];
    const words = `0-0-60 of the task “LOWFORTY strip 11-52-0 0-0-60” ${old} lb, now ${now} lb`;
    for (const text of [told.error, told.out, sheetCells(join(usb, "CAB_B.html"))])
      expect(text).toContain(words);
    expect(told.out).not.toContain("LOWFORTY_R_0060");
  });

  test("where its maps are as they were it keeps its page, without the task, which is not written again", async () => {
    await stick();
    await cli("stick", dir, "--mark", "low-forty=loaded");
    const told = await stick(...ASIDE);
    expect(told.out).not.toContain("earlier plan");
    const sheet = sheetCells(join(usb, "CAB_B.html"));
    expect(sheet).not.toContain("earlier plan");
    expect(sheet).toContain("<td>LOWFORTY_R_0060_A</td>");
    expect(sheet).toContain("FALLBACK/LOWFORTY_R_0060F_A: the plain fallback");
    expect(sheet).not.toContain("LOWFORTY strip");
    expect(readFileSync(join(usb, "TASKDATA/TASKDATA.XML"), "utf8")).not.toContain("LOWFORTY strip");
  });

  test("once the ledger has it as stripped its maps are none of the set, marked or not", async () => {
    await stick();
    await cli("stick", dir, "--mark", "low-forty=done");
    const folder = join(base, "plan");
    const { plan, files } = twoFields({}, { zeroRate: "off" });
    mkdirSync(folder);
    for (const [path, bytes] of [...files, ["plan.json", writePlan(plan)] as const])
      writeFileSync(join(folder, path), bytes);
    const placed = ["11-52-0", "0-0-60"].map((product) => ({
      ...{ kind: "placed", fieldId: "low-forty", pass: "strip", product },
      ...{ lb: 1500, areaAc: 20.4, map: "", revision: "" },
    }));
    writeFileSync(join(base, "placed.json"), JSON.stringify(placed));
    expect((await cli("ledger", folder, "--add", join(base, "placed.json"))).exit).toBe(0);
    const told = await stick("--plan", folder, ...ASIDE);
    expect([told.exit, told.error]).toEqual([
      0,
      expect.stringContaining("Low Forty is stripped by the ledger"),
    ]);
    expect(stickJson().maps.every(({ field }) => field === "twin")).toBe(true);
    expect(told.out).toMatch(/Older maps of these fields[^\n]*\n(?: {2}[^\n]+\n)* {2}LOWFORTY_R_0060_A\.shp/);
    expect(sheetCells(join(usb, "CAB_B.html"))).toContain("Not on this stick: Low Forty.");
  });

  test("the spreader's stick says it before anything is written; not where the plan is as it was, nor once the strip maps were written again", async () => {
    await stick();
    await cli("stick", dir, "--mark", "low-forty=done");
    const spread = async () => {
      const to = mkdtempSync(join(base, "spreader-"));
      const told = await cli("stick", dir, "--to", to, "--pass", "broadcast");
      return {
        ...told,
        sheet: sheetCells(join(to, readdirSync(to).find((name) => name.startsWith("CAB"))!)),
      };
    };
    const words = /Low Forty is marked done with strip maps of an earlier plan \(/;
    expect((await spread()).out).not.toMatch(words);
    put(changed!);
    const told = await spread();
    for (const text of [told.error, told.out, told.sheet]) expect(text).toMatch(words);
    expect((await stick("--reissue", ...ASIDE)).out).not.toMatch(words);
    expect((await spread()).out).not.toMatch(words);
  });
});

describe("a stick of some fields", () => {
  test("another field whose maps are on it as built stays part of the set; one that is not on it has no page and is named", async () => {
    await stick("--field", "low-forty");
    const one = sheetCells(join(usb, "CAB_A.html"));
    expect(one).toContain("Not on this stick: Twin.");
    expect(one).not.toContain("TWIN");
    expect(one).toMatch(
      /<tr data-field="twin"><td class="n"><\/td><td>Twin<\/td>.*?<td data-pass="strip">not on this stick<\/td>/,
    );
    const told = await stick("--field", "twin", ...ASIDE);
    expect(told.exit).toBe(0);
    expect(told.out).not.toContain("Older maps");
    expect(shapes()).toEqual([
      "LOWFORTY_L_1152_A.shp",
      "LOWFORTY_R_0060_A.shp",
      "TWIN_L_1152_B.shp",
      "TWIN_R_0060_B.shp",
    ]);
    expect(
      stickJson()
        .maps.map(({ name }) => `${name}.shp`)
        .sort(),
    ).toEqual(shapes());
    const both = sheetCells(join(usb, "CAB_B.html"));
    expect(both).not.toContain("Not on this stick");
    for (const name of shapes()) expect(both).toContain(`<td>${name.slice(0, -".shp".length)}</td>`);
    expect(readFileSync(join(usb, "TASKDATA/TASKDATA.XML"), "utf8")).toMatch(/LOWFORTY strip.*TWIN strip/s);
    // Taken off by hand, it does not come back.
    for (const path of readdirSync(usb).filter((name) => name.startsWith("LOWFORTY")))
      rmSync(join(usb, path));
    await stick("--field", "twin", ...ASIDE);
    expect(shapes()).toEqual(["TWIN_L_1152_B.shp", "TWIN_R_0060_B.shp"]);
  });

  test("another field whose maps are of an earlier plan does not stay: they are older maps", async () => {
    await stick("--field", "low-forty");
    put(changed!);
    const told = await stick("--field", "twin", ...ASIDE);
    expect(told.out).toMatch(/Older maps of these fields[^\n]*\n(?: {2}[^\n]+\n)* {2}LOWFORTY_R_0060_A\.shp/);
    expect(stickJson().maps.every(({ field }) => field === "twin")).toBe(true);
  });
});

test("a remainder where names are short: the whole field's map is an older one, and the next field is from the build", async () => {
  put(await build({ extras: ["fallback"] }, { zeroRate: "off", nameLength: 8 }));
  expect((await stick()).exit).toBe(0);
  const [low, twin] = [/^LOW\w*\.shp$/, /^TWIN\w*\.shp$/].map((own) =>
    shapes().filter((name) => own.test(name)),
  );
  expect([low!.length, twin!.length]).toEqual([2, 2]);
  const rest = join(base, "rest");
  const made = await cli(
    ...["remainder", join(dir, "plan"), "--field", "low-forty", "--done-after", "driven:5", "--out", rest],
  );
  expect(made.exit, made.error).toBe(0);
  const told = await cli("stick", rest, "--to", usb);
  expect(told.exit, told.error).toBe(0);
  const under = (head: RegExp) =>
    new RegExp(`${head.source}[^\n]*\n((?: {2}.*\n)*)`).exec(told.out)?.[1] ?? "";
  const [older, others] = [under(/Older maps of these fields/), under(/Not of this set/)];
  for (const name of low!) expect([older.includes(name), others.includes(name)]).toEqual([true, false]);
  for (const name of twin!) expect([older.includes(name), others.includes(name)]).toEqual([false, true]);
  expect(told.out).toContain("before the next field write the stick again from the build, with --field");
  expect(sheetCells(join(usb, stickSheetName()))).toContain(
    "before the next field write it again from the build",
  );
  // And so it is: what was not of the set is once more.
  expect((await stick("--field", "twin")).exit).toBe(0);
  expect(stickJson().maps.map(({ field }) => field)).toEqual(["twin", "twin"]);
});

describe("letters", () => {
  test("nothing changed and the TASKDATA is to stay: it is this tool's own, and every map keeps its letter", async () => {
    await stick();
    const before = readFileSync(join(usb, "manifest.json"), "utf8");
    const told = await stick(...KEEP);
    expect(told.out).toContain("revision A");
    expect(told.out).not.toContain("Not of this set");
    expect(readFileSync(join(usb, "manifest.json"), "utf8")).toBe(before);
  });

  test("another's TASKDATA stays, or a task alone has changed: the maps keep their letters, the sheet gets the next", async () => {
    await stick();
    writeFileSync(join(usb, "TASKDATA/TLG00001.BIN"), "a day of work");
    const letters = shapes();
    expect((await stick(...KEEP)).exit).toBe(0);
    expect(shapes()).toEqual(letters);
    expect(existsSync(join(usb, "CAB_B.html"))).toBe(true);
    put(await build({}, { zeroRate: "off", startLbPerAc: 20 }));
    expect((await stick(...ASIDE)).exit).toBe(0);
    expect(shapes()).toEqual(letters);
    expect(stickJson().revision).toBe("C");
  });

  test("task data alone, and another's TASKDATA that is to stay: refused in words, nothing is written", async () => {
    put(await build({}, { zeroRate: "off", loads: ["taskdata-4"] }));
    mkdirSync(join(usb, "TASKDATA"));
    writeFileSync(join(usb, "TASKDATA/TLG00001.BIN"), "a day of work");
    const told = await stick(...KEEP, "--json");
    expect([told.exit, JSON.parse(told.out).error.code]).toEqual([2, "task-data-stays"]);
    expect(readdirSync(usb)).toEqual(["TASKDATA"]);
  });
});
