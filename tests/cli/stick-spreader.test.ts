// The spreader's stick of a build whose field is stripped already, as it is when the spreader comes.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "stick-spreader-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const folder = join(base, "spring");
const out = join(base, "maps");
const read = (...path: string[]): string => readFileSync(join(base, ...path), "utf8");
const textOf = (html: string): string => html.replace(/<style>.*?<\/style>/s, "").replaceAll(/<[^>]*>/g, " ");

beforeAll(async () => {
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  const plan = { ...seasonPlanDocument(), extras: ["fallback", "taskdata-4"] as const };
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  expect((await cli("build", folder, "--out", out, "--quiet", "--answer", "zero-rate=off")).exit).toBe(0);
  const { areaAc } = JSON.parse(read("maps", "result.json")).fields[0];
  const placed = ["11-52-0", "0-0-60"].map((product) => ({
    ...{ kind: "placed", fieldId: "low-forty", pass: "strip", product },
    ...{ lb: 100 * areaAc, areaAc, map: "", revision: "" },
  }));
  writeFileSync(join(base, "placed.json"), JSON.stringify(placed));
  expect((await cli("ledger", folder, "--add", join(base, "placed.json"))).exit).toBe(0);
  expect(
    (await cli("build", folder, "--out", out, "--overwrite", "--quiet", "--answer", "zero-rate=off")).exit,
  ).toBe(0);
});

test("has the spreader's sheet: its width, products and files, and nothing of the strip rig's", async () => {
  const usb = join(base, "usb");
  mkdirSync(usb);
  const told = await cli("stick", out, "--to", usb, "--pass", "broadcast", "--answer", "zero-rate=off");
  expect(told.exit).toBe(0);
  const { prescriptions } = JSON.parse(read("maps", "result.json"));
  const maps: { pass: string; product: string; totalLb: number }[] = prescriptions;
  const carried = maps.filter(({ pass }) => pass === "broadcast");
  const alone = maps.filter(({ product }) => carried.every((one) => one.product !== product));
  expect([carried.map(({ product }) => product), alone.map(({ product }) => product)]).toEqual([
    ["0-0-60"],
    ["11-52-0"],
  ]);
  // The last page is of law, for both machines.
  const whole = textOf(read("usb", "CAB_A.html"));
  expect(whole).not.toMatch(/cab sheet/i);
  const [sheet = ""] = whole.split("law and local rules");
  expect(sheet).toContain("Swath 60 ft; the file has ");
  expect(sheet).toContain(` ${Math.round(carried[0]!.totalLb).toLocaleString("en-US")} `);
  expect(sheet).toContain("task, in the folder TASKDATA");
  expect(sheet).not.toMatch(
    /11-52-0|rows|catch test|strip pass|stripped|passes|salt|meters|bin \(|first load/i,
  );
  const shapes = readdirSync(usb, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith(".shp"));
  const named = sheet.match(/[A-Z/]*LOWFORTY_\w+/g)!;
  expect([...new Set(named)].sort()).toEqual(shapes.map((name) => name.slice(0, -".shp".length)).sort());
});

test("that the field is stripped is said for the strip rig alone", () => {
  expect(textOf(read("maps", "cab.html"))).toMatch(
    /is stripped by the ledger, [^:]*: nothing is left for the strip rig to load\./,
  );
  expect(textOf(read("maps", "spreader.html"))).not.toContain("stripped");
});

test("what the maps would lay besides what lies in the strips is said on stick and sheets, with what to do", async () => {
  const { prescriptions, fields } = JSON.parse(read("maps", "result.json"));
  const inStrip = prescriptions.find(
    ({ pass, product }: { pass: string; product: string }) => pass === "strip" && product === "0-0-60",
  );
  // 100 lb/ac lie there by the ledger: 2,039 lb where the strip map has 1,153.
  const tooMuchLb = 100 * fields[0].areaAc - inStrip.totalLb;
  expect([tooMuchLb, 0.6 * tooMuchLb].map(Math.round)).toEqual([886, 531]);
  const said =
    "would lay 886 lb 0-0-60 (531 lb K2O) too much: `applied` makes catch-up maps of what was logged";
  for (const sheet of [read("maps", "spreader.html"), read("maps", "cab.html"), read("usb", "CAB_A.html")])
    expect(textOf(sheet)).toContain(said);
  const again = join(base, "again");
  mkdirSync(again);
  const told = await cli("stick", out, "--to", again, "--pass", "broadcast", "--answer", "zero-rate=off");
  expect(told.out).toMatch(/LOOK BEFORE LOADING:\n {2}.*would lay 886 lb 0-0-60 \(531 lb K2O\) too much/);
});
