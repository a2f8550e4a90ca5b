// The names under which maps were put on a stick, as the ledger has them: those of products that the plan no longer has, and short ones.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { type Plan, run, writePlan } from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "loaded-names-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** A plan folder whose maps were put on a stick, with the plan's ledger told. */
async function loaded(name: string, plan: Plan): Promise<string> {
  const [folder, out, usb] = ["", "-maps", "-usb"].map((end) => join(base, name + end)) as [
    string,
    string,
    string,
  ];
  for (const path of [folder, usb]) mkdirSync(path);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  expect((await cli("build", folder, "--out", out, "--quiet")).exit).toBe(0);
  const told = await cli("stick", out, "--to", usb, "--plan", folder);
  expect([told.exit, told.error]).toEqual([0, expect.stringContaining("2 lines written")]);
  return folder;
}

test("a remainder after the product was changed names the maps that were loaded, beside those that the plan has now", async () => {
  const plan: Plan = { ...seasonPlanDocument(), controller: { zeroRate: "off" } };
  const folder = await loaded("changed", plan);
  const before = await cli("remainder", folder, "--done-after", "driven:5", "--out", join(base, "as-loaded"));
  expect([before.exit, before.error]).toEqual([0, ""]);
  expect(before.out).toContain(
    "Delete LOWFORTY_L_1152 and LOWFORTY_R_0060, in any form, from the display first.",
  );

  const bins = plan.rig.bins.map((bin) => (bin.product === "11-52-0" ? { ...bin, product: "18-46-0" } : bin));
  writeFileSync(join(folder, "plan.json"), writePlan({ ...plan, rig: { ...plan.rig, bins } }));
  const out = join(base, "left");
  const told = await cli("remainder", folder, "--done-after", "driven:5", "--out", out);
  expect([told.exit, told.error]).toEqual([0, ""]);
  const words =
    "Delete LOWFORTY_L_1846 and LOWFORTY_R_0060, in any form, and what the ledger has as loaded before: LOWFORTY_L_1152, from the display first.";
  expect(told.out).toContain(words);
  expect(readFileSync(join(out, "cab.html"), "utf8")).toContain(words);
});

test("what was loaded under short names is found when a log goes into the ledger", async () => {
  const plan: Plan = {
    ...seasonPlanDocument(),
    controller: { zeroRate: "off", nameLength: 8, loads: ["shapefile"] },
  };
  const folder = await loaded("short", plan);
  const { fields } = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  const logs = ["11-52-0", "0-0-60"].flatMap((product, bin) => {
    const path = join(base, `${product}.csv`);
    writeFileSync(path, logCsv(driveField(plan, fields[0]!, bin), "DRY"));
    return ["--log", `${product}=${path}`];
  });
  const told = await cli("applied", folder, ...logs, "--into-ledger");
  expect(told.exit, told.error).toBe(0);
  const ledger = await cli("ledger", folder, "--json");
  const { entries } = JSON.parse(ledger.out) as {
    entries: { kind: string; map: string; revision: string }[];
  };
  const names = (kind: string) =>
    entries.flatMap((one) => (one.kind === kind ? [[one.map, one.revision]] : []));
  expect(names("loaded")).toEqual([
    ["LOWFLA", "A"],
    ["LOWFRA", "A"],
  ]);
  expect(names("placed")).toEqual(names("loaded"));
});
