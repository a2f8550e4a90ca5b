// What the operator reads of fills and of a remainder with another product, and figures typed in the wrong unit.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { usableLoad } from "../../src/capacity/index.ts";
import { type Plan, writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "fills-words-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const planned = (name: string, plan: Plan): string => {
  const folder = join(base, name);
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  return folder;
};
let folder = "";
beforeAll(() => {
  folder = planned("spring", seasonPlanDocument());
});
const figures = (text: string): number[] =>
  [...text.matchAll(/ ([\d,]+)(?=[,;]| lb)/g)].map(([, digits]) => Number(digits!.replaceAll(",", "")));

test("what is left and the whole field are told by the same meter factor", async () => {
  const told = async (...more: string[]) =>
    (await cli("fills", folder, "--done-after", "driven:10", "--bin-lb", "600,600", ...more)).out;
  const [, left, whole] = /What is left takes (.*) lb \(the whole field (.*) lb\),/.exec(await told())!;
  const [, leftBy, wholeBy] =
    /What is left takes (.*) lb \(the whole field (.*) lb, both by the meter factor 1\.100\)/.exec(
      await told("--meter-factor", "1.1"),
    )!;
  for (const [one, by] of [
    [left!, leftBy!],
    [whole!, wholeBy!],
  ] as const) {
    const [before, after] = [figures(`${one} lb`), figures(`${by} lb`)];
    expect(before).toHaveLength(2);
    // Both are rounded to the pound.
    for (const [b, lb] of before.entries()) expect(Math.abs(after[b]! - 1.1 * lb)).toBeLessThan(1.1);
  }
});

test("what the scales are to read before the first pass: less what is laid, with what is loaded, they read as told at the stops and the end", async () => {
  const { out } = await cli("fills", folder);
  const [, text] = /^Before the first pass load until the scales read (.*) lb: /m.exec(out)!;
  const first = figures(`${text} lb`);
  const [fills] = JSON.parse((await cli("fills", folder, "--json")).out).fields;
  const [stop] = fills.stops;
  for (const b of [0, 1]) {
    const lbOf = (passes: readonly { readonly lb: readonly number[] }[]): number =>
      passes.reduce((lb, pass) => lb + pass.lb[b]!, 0);
    const loaded = fills.stops.reduce(
      (lb: number, one: { readonly loadLb: readonly number[] }) => lb + one.loadLb[b]!,
      0,
    );
    const atStop = first[b]! - lbOf(fills.passes.slice(0, stop.passesDone));
    expect(Math.abs(atStop - stop.scaleBeforeLb[b])).toBeLessThan(1);
    expect(Math.abs(first[b]! + loaded - fills.fieldLb[b] - fills.endScaleLb[b])).toBeLessThan(1);
  }
  // From a stop on the bins hold what their scales show.
  const on = await cli("fills", folder, "--done-after", "driven:10", "--bin-lb", "600,600");
  expect(on.out).not.toContain("Before the first pass");
});

test("a bin that lays nothing in the field stands in no first load", async () => {
  const plan = seasonPlanDocument();
  const needFrom = { kind: "flat", lbPerAc: { P2O5: 104, K2O: 0 } } as const;
  const fields = plan.fields.map((field) => ({ ...field, needFrom }));
  const one = planned("phosphate-alone", { ...plan, fields, split: { ...plan.split, capLbPerAc: 300 } });
  const { out } = await cli("fills", one);
  expect(out).toMatch(/^Before the first pass load until the scales read L 11-52-0: [\d,]+ lb: /m);
  expect(out).toMatch(/^A first load that reads L 11-52-0 [\d,]+ lb would do for \d stops? too/m);
  const [fills] = JSON.parse((await cli("fills", one, "--json")).out).fields;
  // What cannot be metered out, and nothing kept back for ground that takes none.
  expect([fills.fieldLb[1], fills.firstLoad.scaleLb[1]]).toEqual([0, 50]);
});

test("loads of a tender that brings less than a fill are called so, with the acres and the wait of each", async () => {
  const plan = seasonPlanDocument();
  const small = planned("small-tender", { ...plan, tender: { count: 1, lb: 600, tripMin: 60 } });
  const { out } = await cli("capacity", small);
  const { all } = JSON.parse((await cli("capacity", small, "--json")).out);
  const eachAc = 600 / all.binLbPerAc;
  expect(out).toContain(
    `${Math.ceil(all.areaAc / eachAc)} tender loads of ${eachAc.toFixed(1)} ac: a tender brings less than a fill; `,
  );
  expect(out).toMatch(/the rig waits [\d.]+ minutes a tender load/);
  expect(out).not.toContain("where the rig can stop");
  const [, wait] = /the rig waits ([\d.]+) minutes/.exec(out)!;
  // One tender: a load an hour and what it fills meanwhile; the rig waits for what its own work leaves of that.
  const rigMinutes = 60 * eachAc * (all.lines.rig.hoursPerAc + all.lines.rig.hoursPerLb * all.rateLbPerAc);
  expect(Math.abs(Number(wait) - (60 * eachAc * all.hoursPerAc - rigMinutes))).toBeLessThan(0.06);
  expect((await cli("capacity", folder)).out).not.toContain("tender load");
});

test("a percentage typed for a factor or a share is refused, and it is said how it is meant", async () => {
  const refused = async (...words: string[]) => {
    const told = await cli(...words, "--json");
    return [told.exit, JSON.parse(told.out).error] as const;
  };
  const stand = ["fills", folder, "--done-after", "driven:10", "--bin-lb", "600,600", "--meter-factor"];
  expect(await refused(...stand, "110")).toMatchObject([2, { code: "not-a-number" }]);
  expect(await refused(...stand, "0.4")).toMatchObject([2, { code: "not-a-number" }]);
  const share = [2, { code: "not-a-number", remedy: "It is a share: 0.8 is 80 %." }];
  expect(await refused("season", folder, "--strip-share", "80")).toMatchObject(share);
  expect(await refused("remainder", folder, "--done-after", "driven:3", "--strip-share", "80")).toMatchObject(
    share,
  );
  expect((await cli("season", folder, "--strip-share", "1.2")).exit).toBe(0);
});

test("without a tender in the plan the fills say that product is always at hand; a small one stands above the stops", async () => {
  const { tender: _, ...plan } = seasonPlanDocument();
  const none = (await cli("fills", planned("none", plan))).out;
  expect(none).toContain("No tender is counted: product is always at hand where the rig stops.");
  expect(none).not.toContain("min for the tender");
  const small = (
    await cli("fills", planned("small", { ...plan, tender: { count: 1, lb: 100, tripMin: 60 } }))
  ).out;
  const lines = small.split("\n");
  const at = lines.findIndex((line) => line.startsWith("A tender brings 100 lb"));
  expect(at).toBeGreaterThan(0);
  expect(at).toBeLessThan(lines.findIndex((line) => line.startsWith("stop ")));
});

test("a remainder with another product says to empty the bin, and what it holds by the stops as planned", async () => {
  const after = ["--done-after", "driven:10"];
  const { fields } = JSON.parse((await cli("fills", folder, "--json")).out);
  const [fills] = fields;
  const scale = Math.round(fills.passes[9].leftLb[0] + fills.residualLb[0]).toLocaleString("en-US");
  const out = join(base, "rest");
  const told = await cli("remainder", folder, ...after, "--instead", "11-52-0=18-46-0", "--out", out);
  const words = `Bin L holds 11-52-0, ${scale} lb on its scale by the stops as planned: empty and clean bin and meter before 18-46-0 goes in`;
  expect(told.out).toContain(words);
  expect(readFileSync(join(out, "cab.html"), "utf8")).toContain(words);
  expect((await cli("remainder", folder, ...after)).out).not.toContain("empty and clean");
});

test("a bin that holds less than stays in it: pounds rounded", () => {
  const bin = { binFt3: 0.19, lbPerFt3: 62, residualLb: 150 };
  expect(() => usableLoad(bin)).toThrow("a full bin holds 11.8 lb and 150 lb stay in it");
});
