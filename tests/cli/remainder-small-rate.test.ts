// A remainder for a controller that must not get a rate 0: what its fallback lays on the ground that is left.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "remainder-small-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

test("the sheet's mean and the pounds beyond the map are those of the fallback on what is left", async () => {
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(base, path), bytes);
  const controller = { zeroRate: "small", smallRateLbPerAc: 8 } as const;
  writeFileSync(join(base, "plan.json"), writePlan({ ...seasonPlanDocument(), controller }));
  const out = join(base, "rest");
  // 0 on all that is left: the fallback lays 8 lb/ac there, and on the ground that is worked.
  const told = await cli("remainder", base, "--done-after", "5", "--rate", "0-0-60=0", "--out", out);
  expect(told.exit, told.error).toBe(0);
  const [, left, worked] = /: ([\d.]+) ac are left, ([\d.]+) ac worked/.exec(told.out)!.map(Number);
  expect(worked).toBeGreaterThan(0.5);
  const lb = Number(/the fallback lays (\d+) lb of 0-0-60 more than the map, by 8 lb\/ac/.exec(told.out)![1]);
  // Acres are told to a tenth, pounds to one.
  expect(Math.abs(lb - 8 * left!)).toBeLessThan(8 * 0.05 + 0.5);
  const sheet = readFileSync(join(out, "cab.html"), "utf8");
  const row = /_REM0060F<\/td>.*?<\/tr>/s.exec(sheet)![0];
  const figure = (of: string) => new RegExp(`data-of="${of}, lb/ac">([\\d.]+)<`).exec(row)![1];
  expect([figure("least"), figure("mean"), figure("most")]).toEqual(["8", "8.0", "8"]);
  expect(sheet).toContain(`lays ${lb} lb of 0-0-60 more than the map`);
});
