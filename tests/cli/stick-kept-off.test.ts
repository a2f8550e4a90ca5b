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
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { type PlanController, run, writePlan } from "../../src/plan/index.ts";
import { buildFiles, manifestPath } from "../../src/publish/index.ts";
import { planWithForms } from "../support/extra-forms.ts";
import { cli } from "../support/in-process-cli.ts";
import { sheetCells } from "../support/sheet-cells.ts";
import { labCsv, madeFrom, SAMPLES, smallFarmFiles, sourceOf, withFile } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "stick-kept-off-test-"));
const [dir, usb] = [join(base, "maps"), join(base, "usb")];

/** The small farm (invented) built for a controller. Its right bin's map has ground with 0, its left bin's has none. */
async function build(controller: PlanController, sources = smallFarmFiles()): Promise<void> {
  const wanted = { ...planWithForms(controller), extras: ["taskdata-4", "fallback"] as const };
  const plan = madeFrom(wanted, sources);
  const result = await run(plan, sourceOf(sources));
  const files = buildFiles(result, "0.0.1", new Map([...sources, ["plan.json", writePlan(plan)]]));
  rmSync(dir, { recursive: true, force: true });
  for (const [path, bytes] of files) {
    mkdirSync(dirname(join(dir, path)), { recursive: true });
    writeFileSync(join(dir, path), bytes);
  }
}

beforeEach(() => {
  rmSync(`${dir}.stick.json`, { force: true });
  rmSync(usb, { recursive: true, force: true });
  mkdirSync(usb);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const shapes = (): string[] =>
  readdirSync(usb, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.name.endsWith(".shp"))
    .map((entry) => join(entry.parentPath, entry.name).slice(usb.length + 1))
    .sort();

describe("a controller that must not get a rate 0", () => {
  test("finds the fallbacks in its own folder; maps and tasks with zeros are not on the stick and named as never to be loaded", async () => {
    await build({ nameLength: 8, folder: "RX", zeroRate: "small", smallRateLbPerAc: 5 });
    const told = await cli("stick", dir, "--to", usb);
    expect(told.exit).toBe(0);
    expect(shapes()).toEqual(["RX/LOWFLFA.shp", "RX/LOWFRFA.shp"]);
    expect(existsSync(join(usb, "TASKDATA"))).toBe(false);
    expect(told.out).toMatch(/ {2}RX\/LOWFRFA {2}Low Forty, bin R, 0-0-60, [\d,]+ lb, least 5 lb\/ac/);
    expect(told.out).toContain(
      "Left out and never to be loaded: a rate 0 is in it, which this controller must not get:\n  LOWFRA\n  task “LOWFORTY strip 11-52-0 0-0-60”\n",
    );
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toContain("<td>RX/LOWFLFA</td>");
    expect(sheet).toContain("<td>RX/LOWFRFA</td>");
    expect(sheet).toContain("Never load LOWFRA, LOWFORTY strip 11-52-0 0-0-60");
    // It is told nowhere to set a rate of 0.
    expect(sheet).not.toMatch(/default rate 0/i);
    expect(sheet).toContain("No rate 0 anywhere on the display");
    expect((await cli("check", usb)).exit).toBe(0);
  });
});

describe("where the controller must not get a rate 0 and what it loads has one", () => {
  test("a grid of task data has one round the field, on ground that has none too: left out, and named", async () => {
    // So little in the soil everywhere that only what lies off the field is 0.
    const poor = labCsv(SAMPLES.map(([id, lon, lat]) => [id!, lon!, lat!, 8, 95, 14]));
    const controller = { zeroRate: "small", smallRateLbPerAc: 5, loads: ["fallback", "taskdata-4"] } as const;
    await build(controller, withFile(smallFarmFiles(), "lab.csv", poor));
    const { prescriptions } = JSON.parse(readFileSync(join(dir, "result.json"), "utf8"));
    for (const { minLbPerAc } of prescriptions) expect(minLbPerAc).toBeGreaterThan(0);
    const xml = readFileSync(join(dir, "extras/taskdata-4/LOWFORTY_ST/TASKDATA/TASKDATA.XML"), "utf8");
    expect(xml).toMatch(/<PDV A="0006" B="0"/);
    const told = await cli("stick", dir, "--to", usb);
    expect(told.exit, told.error).toBe(0);
    expect(existsSync(join(usb, "TASKDATA"))).toBe(false);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).not.toContain("in the folder TASKDATA");
    expect(told.out).toContain(
      "a rate 0 is in it, which this controller must not get:\n  task “LOWFORTY strip",
    );
    expect(sheet).toContain("Never load LOWFORTY strip 11-52-0 0-0-60: a rate 0 is in it");
    expect(shapes()).toEqual(["FALLBACK/LOWFORTY_L_1152F_A.shp", "FALLBACK/LOWFORTY_R_0060F_A.shp"]);
  });

  test.each([
    ["taskdata-4", "Put “fallback” into controller.loads of the plan, build", ["taskdata-4", "fallback"]],
    ["kg-ha", "put “fallback” in place of “kg-ha” in controller.loads of the plan", ["fallback"]],
  ] as const)(
    "%s alone: the remedy names controller.loads, and what it says leads to a stick",
    async (form, words, then) => {
      await build({ zeroRate: "small", smallRateLbPerAc: 5, loads: [form] });
      const refused = await cli("stick", dir, "--to", usb, "--json");
      expect(JSON.parse(refused.out).error).toMatchObject({
        code: "zero-rate-not-built",
        remedy: expect.stringContaining(words),
      });
      await build({ zeroRate: "small", smallRateLbPerAc: 5, loads: then });
      const told = await cli("stick", dir, "--to", usb);
      expect([told.exit, told.error]).toEqual([0, ""]);
      expect(shapes()).toEqual(["FALLBACK/LOWFORTY_L_1152F_A.shp", "FALLBACK/LOWFORTY_R_0060F_A.shp"]);
    },
  );
});

describe("rates that a task sends off the field", () => {
  test("stand on the sheet as typed where the task is what to load, and are 0 where a map is", async () => {
    const off = { zeroRate: "off", startLbPerAc: 20, positionLostLbPerAc: 15 } as const;
    await build({ ...off, loads: ["taskdata-4"] });
    await cli("stick", dir, "--to", usb);
    // 20 lb/ac are 20 x 453,592.37 mg over 4,046.8564224 m2: 2,242 mg/m2.
    expect(readFileSync(join(usb, "TASKDATA/TASKDATA.XML"), "utf8")).toContain('<PDV A="0006" B="2242"');
    const task = sheetCells(join(usb, "CAB_A.html"));
    expect(task).toContain(
      "Default rate 20 lb/ac, outside the field 0: the task sends them, as typed in the plan.",
    );
    expect(task).toContain("Position lost: the task lays 15 lb/ac; stop the rig.");
    expect(task).toContain("<li>Default rate 20, rate outside the field 0.</li>");
    rmSync(usb, { recursive: true });
    mkdirSync(usb);
    rmSync(`${dir}.stick.json`);
    await build({ ...off, loads: ["shapefile"] });
    await cli("stick", dir, "--to", usb);
    const map = sheetCells(join(usb, "CAB_A.html"));
    expect(map).toContain(
      "Default rate 0, outside the field 0. Position lost: both meters stop; stop the rig.",
    );
    expect(map).toContain("<li>Default rate 0, rate outside the field 0.</li>");
  });
});

test("the sheet of a remainder tells the whole set by the names it has on a stick", async () => {
  await build({ nameLength: 8, folder: "RX", zeroRate: "small", smallRateLbPerAc: 5 });
  await cli("stick", dir, "--to", usb);
  const whole = shapes();
  const left = join(base, "left");
  const made = await cli("remainder", join(dir, "plan"), "--done-after", "driven:5", "--out", left);
  expect(made.exit, made.error).toBe(0);
  const rest = join(base, "usb-left");
  mkdirSync(rest);
  await cli("stick", left, "--to", rest);
  const sheet = sheetCells(join(rest, "CAB_A.html"));
  const [, ...begins] =
    /Delete \S+ and \S+, in any form, and the task “LOWFORTY strip 11-52-0 0-0-60” from the display first; on a stick and the display their names begin with (\w+) and (\w+)\./.exec(
      sheet,
    )!;
  expect(whole.map((path, k) => path.startsWith(`RX/${begins[k]}`))).toEqual([true, true]);
  // None of the remainder's own names begins so.
  expect(readdirSync(join(rest, "RX")).filter((name) => begins.some((one) => name.startsWith(one)))).toEqual(
    [],
  );
});

test("a remainder for a controller of tasks alone names the task, and no map that no display shows", async () => {
  await build({ zeroRate: "off", loads: ["taskdata-4"] });
  const left = join(base, "left-task");
  const made = await cli("remainder", join(dir, "plan"), "--done-after", "driven:5", "--out", left);
  const words = "Delete the task “LOWFORTY strip 11-52-0 0-0-60” from the display first.";
  expect([made.exit, made.out.includes(words)]).toEqual([0, true]);
  const sheet = sheetCells(join(left, "cab.html"));
  expect(sheet).toContain(words);
  expect(sheet).toContain("<td>LOWFORTY REM 11-52-0 0-0-60</td>");
  expect(sheet).not.toMatch(/Delete LOWFORTY_/);
});

describe("what stands on a stick besides the set", () => {
  test("every file is named by command, sheet and check: an older cab sheet, a part of a shapefile by itself, a shapefile once", async () => {
    await build({ zeroRate: "off", loads: ["shapefile"] });
    for (const path of ["CAB_K.html", "old_map.dbf", "OTHER.SHP", "OTHER.DBF", "OTHER.SHX"])
      writeFileSync(join(usb, path), "another's");
    const told = await cli("stick", dir, "--to", usb);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    const { out } = await cli("check", usb);
    for (const text of [told.out.replaceAll("\n  ", ", "), sheet, out])
      expect(text).toContain("CAB_K.html, OTHER.SHP, old_map.dbf");
    expect(out).toContain("5 other files beside them, not to be loaded:");
  });

  test("letters go on after the highest on the stick, where neither the build nor the stick has a record", async () => {
    await build({ zeroRate: "off", loads: ["shapefile"] });
    writeFileSync(join(usb, "LOWFORTY_L_1152_C.shp"), "an earlier revision");
    writeFileSync(join(usb, "OTHER_L_1152_H.shp"), "another field's");
    await cli("stick", dir, "--to", usb);
    expect(JSON.parse(readFileSync(join(usb, "stick.json"), "utf8")).revision).toBe("D");
    expect(shapes()).toContain("LOWFORTY_L_1152_D.shp");
  });

  test("the same where names are short and their letters run together: the mark of a form is no letter", async () => {
    await build({ zeroRate: "off", nameLength: 8, loads: ["shapefile", "fallback"] });
    writeFileSync(join(usb, "LOWFLFB.SHP"), "an earlier fallback, revision B");
    await cli("stick", dir, "--to", usb);
    expect(shapes()).toContain("LOWFLC.shp");
    expect(existsSync(join(usb, manifestPath))).toBe(true);
  });
});
