// Two days of work in files that are easily given in part: layers of one zip, and the day's file of one bin of two.
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type FieldResult, type Plan, run, workedPasses, writePlan } from "../../src/plan/index.ts";
import { type DrivenPoint, driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { logLayersZip } from "../support/log-files.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "log-days-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const plan: Plan = seasonPlanDocument();
const WIDTH_FT = 30;
const DAY_S = 86_400;

let field: FieldResult;
/** Readings by bin and day. */
let days: DrivenPoint[][][];
/** Of the second day, by the passes' own list: acres, and lb of each bin. */
let second: { ac: number; lb: readonly number[] };
beforeAll(async () => {
  field = (await run(plan, sourceOf(smallFarmFiles()), { files: "later" })).fields[0]!;
  const passes = workedPasses(plan, field);
  const upTo = passes.length - 4;
  days = [0, 1].map((bin) => {
    const all = driveField(plan, field, bin);
    const first = driveField(plan, field, bin, { upTo });
    const next = all.slice(first.length).map((one) => ({ ...one, seconds: one.seconds + DAY_S }));
    return [first, next];
  });
  const left = passes.slice(upTo);
  second = {
    ac: left.reduce((ac, { areaAc }) => ac + areaAc, 0),
    lb: [0, 1].map((bin) => left.reduce((lb, pass) => lb + pass.lb[bin]!, 0)),
  };
});

const ownFolder = (): string => {
  const own = mkdtempSync(join(base, "own-"));
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(own, path), bytes);
  writeFileSync(join(own, "plan.json"), writePlan(plan));
  return own;
};
const write = (name: string, bytes: Uint8Array | string): string => {
  writeFileSync(join(base, name), bytes);
  return join(base, name);
};
const csv = (bin: number, day: number): string =>
  `${["11-52-0", "0-0-60"][bin]}=${write(`${bin}-${day}.csv`, logCsv(days[bin]![day]!, "", WIDTH_FT))}`;
const layersZip = (name: string, layers: Parameters<typeof logLayersZip>[0]): string =>
  write(name, logLayersZip(layers, "", WIDTH_FT));
const placedOf = (out: string): number[] =>
  JSON.parse(out).fields[0].products.map((one: { placedLb: number }) => one.placedLb);

test("a zip with the layers of two days asks, and all of them are one log of as many pounds as the files one by one", async () => {
  const own = ownFolder();
  const [one, two] = days[0]!;
  const zip = layersZip("days.zip", { day1: one!, day2: two! });
  const right = [csv(1, 0), csv(1, 1)].flatMap((log) => ["--log", log]);
  const asked = await cli("applied", own, "--log", `11-52-0=${zip}`, ...right);
  expect(asked.exit).toBe(3);
  expect(asked.error).toContain("choices: day1, day2, all");
  expect(asked.error).toContain(
    "or are all of them days or parts of one product's log? A layer that is not read does not count.",
  );
  const all = await cli(
    "applied",
    own,
    ...["--log", `11-52-0=${zip}`, ...right, "--answer", "layer=all", "--json"],
  );
  expect([all.exit, all.error]).toEqual([0, "Notice: days.zip: day1, day2 read together as one log\n"]);
  const files = [layersZip("day1.zip", { day1: one! }), layersZip("day2.zip", { day2: two! })].flatMap(
    (path) => ["--log", `11-52-0=${path}`],
  );
  const apart = await cli("applied", own, ...files, ...right, "--json");
  expect(apart.error).toBe("");
  expect(placedOf(all.out)).toEqual(placedOf(apart.out));
  // One of them alone is a choice that is told for what it is, and no catch-up is made of it.
  const out = join(base, "one-out");
  const alone = await cli(
    "applied",
    own,
    ...["--log", `11-52-0=${zip}`, ...right, "--answer", "layer=day1", "--out", out],
  );
  expect(alone.exit).toBe(2);
  expect(alone.error).toContain(
    "Notice: days.zip: day1 taken; day2 in the same file is not read and no pound of it counts: where it is of the same product, answer layer=all, or unzip the file and give each log with --log",
  );
  expect(alone.error).toContain("the log of 11-52-0 has no reading");
  expect(existsSync(out)).toBe(false);
});

test("one bin's log of a day lacks: told with acres and pounds, first, and no catch-up before it is there or the pass is finished", async () => {
  const own = ownFolder();
  const out = join(base, "lacks-out");
  const given = [csv(0, 0), csv(1, 0), csv(1, 1)].flatMap((log) => ["--log", log]);
  const told = await cli("applied", own, ...given, "--json");
  const { lacking, notices, catchUp } = JSON.parse(told.out).fields[0];
  expect(lacking).toMatchObject([{ product: "11-52-0", beside: ["0-0-60"] }]);
  expect(Math.abs(lacking[0].areaAc / second.ac - 1)).toBeLessThan(0.03);
  expect(Math.abs(lacking[0].lb / second.lb[0]! - 1)).toBeLessThan(0.03);
  expect(notices[0]).toMatchObject({ code: "log-lacks-ground" });
  expect(catchUp).toMatchObject({ prescriptions: [], voids: [] });
  const entered = await cli("applied", own, ...given, "--out", out, "--into-ledger");
  expect([entered.exit, existsSync(out)]).toEqual([4, false]);
  expect(entered.out).toContain("THE LOG OF 11-52-0 LACKS GROUND THAT ANOTHER COVERS");
  expect(entered.out).toMatch(
    /^Notice: .*the log of 11-52-0 has no reading, not even of rate 0, on [\d.]+ ac that the log of 0-0-60 covers, [\d,]+ lb by its map/m,
  );
  expect(entered.out).toContain("2 lines written into the plan's ledger.");
  // The way on where the bin was shut there: the pass is finished, and what lacks comes by the spreader.
  expect((await cli("ledger", own, "--finish", field.field.id)).exit).toBe(0);
  const over = await cli("applied", own, ...given, "--out", out, "--json");
  expect([over.exit, existsSync(out)]).toEqual([0, true]);
  const after = JSON.parse(over.out).fields[0];
  expect(after.lacking).toEqual([]);
  expect(after.notices[0]).toMatchObject({ code: "log-lacks-ground" });
  const whole = await cli("applied", ownFolder(), ...[...given, "--log", csv(0, 1)], "--json");
  const { fields } = JSON.parse(whole.out);
  expect(fields[0].lacking).toEqual([]);
  const lbOf = (of: typeof after): number =>
    of.catchUp.prescriptions.find((map: { product: string }) => map.product === "11-52-0")?.totalLb ?? 0;
  // What the missing file has is what would have been laid twice.
  expect(Math.abs((lbOf(after) - lbOf(fields[0])) / second.lb[0]! - 1)).toBeLessThan(0.05);
});

test("a bin's log that is in the ledger and is not given holds the catch-up back, its pounds near the map's or not", async () => {
  const own = ownFolder();
  const out = join(base, "one-bin");
  const [left, right] = [0, 1].map((bin) => [csv(bin, 0), csv(bin, 1)].flatMap((log) => ["--log", log]));
  const dated = ["--into-ledger", "--date", "2027-04-20"];
  expect((await cli("applied", own, ...right!, ...dated)).exit).toBe(0);
  const alone = await cli("applied", own, ...left!, "--out", out, "--json");
  expect([alone.exit, JSON.parse(alone.out).error.code]).toEqual([2, "logs-missing"]);
  expect(JSON.parse(alone.out).error.message).toMatch(/entry 1 of 2027-04-20, [\d,]+ lb 0-0-60 on/);
  expect((await cli("applied", own, ...left!, ...right!, "--out", out)).exit).toBe(0);
});

test("the other bin's log among the layers or files of one is told, and kept out of the ledger", async () => {
  const own = ownFolder();
  const [left, right] = [days[0]!, days[1]!];
  const told =
    /one \(from 2027-04-18T[\d:]+Z\), ([\d,]+) readings, lies [\d.]+ lb\/ac off the map of 11-52-0 and [\d.]+ off that of 0-0-60: look whether it is a log of 0-0-60/;
  const zip = layersZip("bins.zip", { L: left[0]!, L2: left[1]!, R: right[0]! });
  const given = ["applied", own, "--log", `11-52-0=${zip}`, "--answer", "layer=all"];
  const count = right[0]!.length.toLocaleString("en-US");
  expect(told.exec((await cli(...given)).out)?.[1]).toBe(count);
  const entered = await cli(...given, "--into-ledger", "--json");
  expect([entered.exit, JSON.parse(entered.out).error.code]).toEqual([2, "doubtful-log"]);
  // Whoever is sure of his logs has the maps, not without a word at head and end.
  const made = await cli(...given, "--out", join(base, "doubted"));
  expect(made.exit).toBe(0);
  expect(made.out).toMatch(/^Low Forty: A LOG IS IN GRAVE DOUBT, BELOW$/m);
  expect(/^Notice: (.*)$/m.exec(made.out)![1]).toMatch(told);
  expect(made.out).toMatch(/^DO NOT SPREAD THEM BEFORE THIS IS CLEAR: 11-52-0: of the files or layers/m);
  const csvs = [csv(0, 0), csv(0, 1), csv(1, 0).replace("0-0-60=", "11-52-0=")];
  const files = await cli("applied", own, ...csvs.flatMap((log) => ["--log", log]));
  expect(told.exec(files.out)?.[1]).toBe(count);
  // One file under both products, beside others: reading for reading the same, whatever its rates.
  const twice = [csv(0, 0), csv(1, 1).replace("0-0-60=", "11-52-0="), csv(1, 0), csv(1, 1)];
  expect((await cli("applied", own, ...twice.flatMap((log) => ["--log", log]))).out).toContain(
    `11-52-0 and 0-0-60 were given the same log among others, ${right[1]!.length} readings (from 2027-04-19T`,
  );
  const two = await cli("applied", own, "--log", csv(0, 0), "--log", csv(0, 1));
  expect(two.out).not.toMatch(told);
});
