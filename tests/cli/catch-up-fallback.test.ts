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
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { rereadShapefile } from "../../src/formats/index.ts";
import { type Plan, writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "catch-up-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

async function caughtUp(name: string, more: Partial<Plan>) {
  const folder = join(base, name);
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan({ ...seasonPlanDocument(), ...more }));
  // Far less than the map has went out, so that there is something to catch up on.
  const tickets = join(folder, "used.json");
  writeFileSync(tickets, JSON.stringify({ "11-52-0": { usedLb: 900 }, "0-0-60": { usedLb: 300 } }));
  const out = join(base, `${name}-out`);
  const told = await cli("applied", folder, "--tickets", tickets, "--out", out);
  expect([told.exit, told.exit === 0 ? "" : told.error]).toEqual([0, ""]);
  return { told, out };
}

test("a catch-up map that the controller does not take is told, and has the plain fallback that is named for it", async () => {
  const controller = { mostPolygons: 10, zeroRate: "off" as const };
  const { told, out } = await caughtUp("limited", { controller, extras: ["fallback", "taskdata-4"] });
  const notices = [
    ...told.error.matchAll(
      /Notice: (\S+_CU_\d{4}): (\d+) polygons, the controller takes 10; load its plain fallback (\S+) instead/g,
    ),
  ];
  expect(notices.length).toBeGreaterThan(0);
  // Task data of it would have the planned task's name.
  expect(readdirSync(join(out, "extras"))).toEqual(["fallback"]);
  for (const [, stem, polygons, fallback] of notices) {
    expect(fallback).toBe(`${stem}F`);
    const filesOf = (path: string, called: string) =>
      new Map(
        ["shp", "shx", "dbf", "prj", "cpg"].map((end) => [
          `${called}.${end}`,
          readFileSync(join(path, `${called}.${end}`)),
        ]),
      );
    const map = await rereadShapefile(filesOf(join(out, "prescriptions", "broadcast"), stem!));
    expect(map.length).toBe(Number(polygons));
    const plain = await rereadShapefile(filesOf(join(out, "extras", "fallback"), fallback!));
    expect(plain.length).toBeLessThan(map.length);
  }
  expect((await cli("check", out)).exit).toBe(0);
});

test("without a fallback in the plan the notice says how to get one; without limits nothing is said", async () => {
  const { told, out } = await caughtUp("none", { controller: { mostPolygons: 10 } });
  expect(told.error).toMatch(
    /Notice: \S+_CU_\d{4}: \d+ polygons, the controller takes 10; add “fallback” to the plan's extras/,
  );
  expect(existsSync(join(out, "extras"))).toBe(false);
  const free = await caughtUp("free", {});
  expect(free.told.error).toBe("");
});
