import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { publishFolder } from "../../src/cli/swap.ts";
import { type RunResult, run } from "../../src/plan/index.ts";
import { buildFiles } from "../../src/publish/index.ts";
import { orderCsv } from "../../src/publish/order-csv.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "order-of-build-"));
const out = join(base, "out");
let result: RunResult;

beforeAll(async () => {
  const plan = seasonPlanDocument();
  const files = smallFarmFiles();
  result = await run(plan, sourceOf(files));
  const planFiles = new Map(files);
  planFiles.set("plan.json", new TextEncoder().encode(JSON.stringify(plan)));
  await publishFolder(out, buildFiles(result, "0.0.0", planFiles), { overwrite: false });
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

test("order.csv: the farm's acres of a pass are those that its field rows add up to", () => {
  const [field] = result.fields;
  // A second field that the spreader does not go to.
  const other = {
    ...field!,
    field: { ...field!.field, id: "other" },
    prescriptions: field!.prescriptions.filter(({ pass }) => pass === "strip"),
  };
  const bytes = orderCsv({ ...result, acres: 2 * result.acres, fields: [field!, other] });
  const rows = new TextDecoder()
    .decode(bytes)
    .split("\r\n")
    .map((line) => line.split(","));
  const acresOf = (pass: string, where: string): string[] =>
    rows
      .filter(([product, of, place]) => product === "0-0-60" && of === pass && place === where)
      .map(([, , , acres]) => acres!);
  const acres = acresOf("broadcast", "low-forty");
  expect(acres).toHaveLength(1);
  expect(acresOf("broadcast", "whole farm")).toEqual(acres);
  const both = 2 * Number(acresOf("strip", "other")[0]);
  expect(Math.abs(Number(acresOf("strip", "whole farm")[0]) - both)).toBeLessThan(0.011);
  expect(acresOf("all", "whole farm")).toEqual([(2 * result.acres).toFixed(2)]);
});

test("a build is ordered from as it was written, or not at all", async () => {
  expect((await cli("order", out)).exit).toBe(0);
  const path = join(out, "plan", "plan.json");
  const whole = readFileSync(path);
  writeFileSync(path, whole.toString().replace('"11-52-0":780', '"11-52-0":580'));
  const edited = await cli("order", out);
  expect(edited.exit).toBe(2);
  expect(edited.error).toMatch(/is not as written:\n.*plan\/plan\.json.*\n.*nothing was ordered from it/);
  writeFileSync(path, whole);
  expect((await cli("order", out)).exit).toBe(0);
  const record = join(out, "order-record.csv");
  const written = readFileSync(record);
  rmSync(record);
  const lost = await cli("order", out);
  writeFileSync(record, written);
  expect(lost.exit).toBe(2);
  expect(lost.error).toContain("order-record.csv");
});

test("a build that lost its manifest or its results, or the plan in it, is held too", async () => {
  const part = join(base, "part");
  for (const lost of [["manifest.json"], ["result.json"], ["manifest.json", "result.json"]]) {
    rmSync(part, { recursive: true, force: true });
    cpSync(out, part, { recursive: true });
    for (const name of lost) rmSync(join(part, name));
    const told = await cli("order", part);
    expect([told.exit, told.out]).toEqual([2, ""]);
    expect(told.error).toMatch(/no whole build.*\n.*build it again; nothing was ordered from it/);
  }
  rmSync(part, { recursive: true });
  cpSync(out, part, { recursive: true });
  const path = join(part, "plan", "plan.json");
  writeFileSync(path, readFileSync(path, "utf8").replace('"11-52-0":780', '"11-52-0":580'));
  const inside = await cli("order", join(part, "plan"));
  expect(inside.exit).toBe(2);
  expect(inside.error).toContain("is not as written");
  // The plan by itself, taken out of the build, is a plan like any other.
  const alone = join(base, "alone");
  cpSync(join(out, "plan"), alone, { recursive: true });
  expect((await cli("order", alone)).exit).toBe(0);
});

test("the ledger of a build is a copy: nothing is written into it, its last line is told, and what came since", async () => {
  const myPlan = join(base, "my-plan");
  cpSync(join(out, "plan"), myPlan, { recursive: true });
  const built = join(base, "built");
  const finish = (folder: string) => cli("ledger", folder, "--finish", "low-forty", "--date", "2027-04-18");
  for (const folder of [out, join(out, "plan"), join(out, "plan", "plan.json")]) {
    const told = await finish(folder);
    expect(told.exit).toBe(2);
    expect(told.error).toContain("is a build: the ledger in it is a copy");
    expect(told.error).toContain("Give the plan's own folder");
  }
  expect(existsSync(join(out, "ledger.txt"))).toBe(false);
  expect((await cli("order", out)).error).toContain("this build was written without a ledger");
  expect((await finish(myPlan)).exit).toBe(0);
  expect((await cli("check", out, "--plan", myPlan)).out).toContain(
    "Notice: the plan's ledger has grown since: line 1 of 2027-04-18 is not in this build",
  );
  await cli("build", myPlan, "--out", built);
  expect((await cli("order", built)).error).toContain(
    "Notice: the ledger is this build's copy, up to line 1 of 2027-04-18;",
  );
  expect((await cli("order", myPlan)).error).not.toContain("copy");
  expect((await cli("check", built, "--plan", myPlan)).out).not.toContain("grown");
});
