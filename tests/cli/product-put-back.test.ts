// The product changed after the pass, and some of the field left unstripped: its finish is in the plan's ledger alone, and
// its logs are read by the maps of before. What the refusals name is followed here to its end.
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { type Plan, run, writePlan } from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "product-put-back-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

test("a finished field of the product before: the build refuses and says to put the product back, and that works", async () => {
  const [folder, build] = [join(base, "plan"), join(base, "build")];
  const plan: Plan = seasonPlanDocument();
  const bins = plan.rig.bins.map((bin) => (bin.product === "11-52-0" ? { ...bin, product: "18-46-0" } : bin));
  const setBins = (to: Plan["rig"]["bins"]): void =>
    writeFileSync(join(folder, "plan.json"), writePlan({ ...plan, rig: { ...plan.rig, bins: to } }));
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  setBins(plan.rig.bins);
  expect((await cli("build", folder, "--out", build, "--quiet")).exit).toBe(0);
  const field = (await run(plan, sourceOf(smallFarmFiles()), { files: "later" })).fields[0]!;
  // The last eighth of the passes is left.
  const count = field.passes.runs.length;
  const skips = Array.from({ length: Math.ceil(count / 8) }, (_, k) => count - 1 - k);
  const logs = ["11-52-0", "0-0-60"].flatMap((product, bin) => {
    const path = join(base, `${bin}.csv`);
    writeFileSync(path, logCsv(driveField(plan, field, bin, { skips, lagS: 0 }), "DRY", 30));
    return ["--log", `${product}=${path}`];
  });
  const { id } = field.field;
  expect((await cli("applied", folder, ...logs, "--into-ledger")).exit).toBe(0);
  expect((await cli("ledger", folder, "--finish", id)).exit).toBe(0);
  const catchUps = async (name: string): Promise<unknown> => {
    const told = await cli("applied", folder, ...logs, "--out", join(base, name), "--json");
    expect(told.exit).toBe(0);
    return JSON.parse(told.out).fields[0].catchUp.prescriptions;
  };
  const before = await catchUps("before");
  expect(before).not.toEqual([]);

  setBins(bins);
  const changed = await cli("applied", folder, ...logs, "--out", join(base, "changed"));
  expect([changed.exit, changed.error]).toEqual([
    2,
    expect.stringContaining(
      "give the build from before the change as PLAN, or, where the field was finished since with ground left unstripped, which that build does not know, put the product back in plan.json for that run",
    ),
  ]);
  // A log that itself names the product before is not merely offered as one of today's.
  const named = join(base, "named.csv");
  writeFileSync(named, logCsv(driveField(plan, field, 0, { skips, lagS: 0 }), "11-52-0", 30));
  const itself = await cli("applied", folder, "--log", named, ...logs.slice(2), "--out", join(base, "named"));
  expect([itself.exit, itself.error]).toEqual([
    2,
    expect.stringMatching(/not known \(“11-52-0”\).*give the build from before the change as PLAN/s),
  ]);
  const built = await cli("applied", build, ...logs, "--out", join(base, "built"));
  expect([built.exit, built.error]).toEqual([
    2,
    expect.stringMatching(/is not finished: .* PLAN is a build, .* put the product back in its plan\.json/s),
  ]);
  expect((await cli("order", folder)).out).toContain("put the product back in plan.json for that run");

  setBins(plan.rig.bins);
  expect(await catchUps("back")).toEqual(before);
});

test("of the plan's own folder the refusal says nothing of a build", async () => {
  const folder = join(base, "own");
  cpSync(join(base, "plan"), folder, { recursive: true });
  rmSync(join(folder, "ledger.txt"));
  const logs = ["--log", `11-52-0=${join(base, "0.csv")}`, "--log", `0-0-60=${join(base, "1.csv")}`];
  const told = await cli("applied", folder, ...logs, "--out", join(base, "own-out"));
  expect([told.exit, told.error]).toEqual([2, expect.stringContaining("is not finished")]);
  expect(told.error).not.toContain("PLAN is a build");
});
