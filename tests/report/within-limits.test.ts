import { beforeAll, expect, test } from "vitest";
import { innerPoint } from "../../src/geo/index.ts";
import { type FieldResult, type RunResult, ratesOf } from "../../src/plan/index.ts";
import {
  fieldSheet,
  type GapId,
  layerOf,
  readOutOf,
  splitLines,
  splitMethodInWords,
} from "../../src/report/index.ts";
import { runSample } from "./run-sample.ts";

/** A cap that never binds, a maximum that does, and money for part of what is wanted. */
let result: RunResult;
let field: FieldResult;
const limits = { P2O5: { maxLbPerAc: 60 } };

beforeAll(async () => {
  result = await runSample("single-field", [], (plan) => ({
    ...plan,
    split: { ...plan.split, method: "ceiling", capLbPerAc: 5_000 },
    pricesUsdPerTon: { "11-52-0": 700, "0-0-60": 500 },
    budget: { usd: 4_000 },
    fields: plan.fields.map((one) => ({ ...one, nutrients: limits })),
  }));
  field = result.fields[0]!;
});

test("where limits cut and the cap does not, only that of the cap is said", () => {
  for (const { needLb, shortageLb } of field.balances) expect(shortageLb).toBeGreaterThan(0.1 * needLb);
  const [{ text } = { text: "" }] = splitLines(result.plan, field.split);
  expect(text).toMatch(/^common ceiling, at most 5,000 lb\/ac, .*; the cap cuts nothing\.$/);
});

test("oxides stand on the sheet as they are printed, the starter's and those of the parts of the need", () => {
  const { split } = result.plan;
  const plan = { ...result.plan, split: { ...split, starterLbPerAc: { P2O5: 20, K2O: 15 } } };
  const layers = [{ name: "build-up, K2O", nutrient: "K2O" as const, needLb: 900, stripLb: 300 }];
  const lines = splitLines(plan, { ...field.split, layers });
  expect(lines[0]!.text).toContain("; starter first: 20 lb P₂O₅/ac, 15 lb K₂O/ac.");
  expect(lines[1]!.text).toBe("build-up, K₂O 300 of 900 lb.");
});

test("a way to split has one name on sheets, command line and page", () => {
  const ways = ["ceiling", "share", "priority", "optimum"] as const;
  expect(ways.map(splitMethodInWords)).toEqual([
    "common ceiling",
    "common share",
    "by priority",
    "least cost",
  ]);
  expect(ways.map((method) => splitLines(result.plan, { ...field.split, method })[0]!.text)).toEqual(
    ways.map((method) => expect.stringMatching(new RegExp(`^${splitMethodInWords(method)}, at most`))),
  );
});

/** The layers' pounds are the balance's, but for slivers on no spreader cell. */
function holdsBalance(of: RunResult): void {
  const one = of.fields[0]!;
  for (const { nutrient, shortageLb, excessLb } of one.balances)
    for (const [side, lb] of [
      ["short", shortageLb],
      ["over", excessLb],
    ] as const) {
      const layer = layerOf(of.plan, one, `${side}/${nutrient}` as GapId);
      expect(Math.abs(layer.lb! - lb)).toBeLessThan(0.5);
    }
}

test("short of the need holds what maximum and budget take, as the balance does, at every place", () => {
  holdsBalance(result);
  const { cells, swaths, gaps, need } = field;
  // 60 lb at the most come by strip and spreader: a spreader cell that needs more lacks the rest, or more by the budget.
  const { start, cell, areaM2 } = swaths.overlaps;
  let met = 0;
  for (let k = 0; k < swaths.pieces.length; k++) {
    let [above, ground] = [0, 0];
    for (let i = start[k]!; i < start[k + 1]!; i++) {
      above += Math.max(0, ratesOf(need, "P2O5")[cell[i]!]! - 60) * areaM2[i]!;
      ground += areaM2[i]!;
    }
    if (above / ground < 1) continue;
    met++;
    expect(gaps.P2O5.short[k]!).toBeGreaterThan(0.99 * (above / ground));
  }
  expect(met).toBeGreaterThan(20);
  // A place that needs K and gets none, since the budget ends before: all of its need is short.
  const { grid } = cells;
  const readOut = readOutOf(result.plan, field);
  const rows = Array.from({ length: grid.nx * grid.ny }, (_, at) =>
    readOut([
      (grid.ix0 + (at % grid.nx) + 0.5) * grid.cellM,
      (grid.iy0 + Math.floor(at / grid.nx) + 0.5) * grid.cellM,
    ]),
  ).flatMap((one) => {
    const value = (label: string) => one?.rows.find((row) => row.label === label)?.value;
    const placed = [value("0-0-60 in the strip"), value("0-0-60 broadcast later")];
    const short = Number(value("K₂O short") ?? 0);
    return one && placed.every((rate) => rate === undefined || rate === "0")
      ? [Number(value("K₂O needed")) - short]
      : [];
  });
  expect(rows.length).toBeGreaterThan(20);
  // Cells of one spreader cell differ a little from its mean.
  expect(Math.abs(rows.reduce((sum, gap) => sum + gap, 0) / rows.length)).toBeLessThan(1);
  const html = fieldSheet(result, field);
  expect(html).toMatch(/Of it over the maximum rate [\d,]+ lb, over the budget [\d,]+ lb/);
});

test("over the need holds what credits bring beyond it", async () => {
  const manure = { name: "manure", kind: "manure", date: "2027-03-01", lbPerAc: { K2O: 90 } } as const;
  const credited = await runSample("single-field", [], (plan) => ({
    ...plan,
    fields: plan.fields.map((one) => ({ ...one, credits: [manure] })),
  }));
  const { creditsBeyondNeedLb } = credited.fields[0]!.balanceReasons.K2O;
  expect(creditsBeyondNeedLb).toBeGreaterThan(100);
  holdsBalance(credited);
  expect(fieldSheet(credited, credited.fields[0]!)).toMatch(/Of it credits beyond need [\d,]+ lb/);
});

test("the read-out names each crop of an application with its own goal, and only those the oxide is for", async () => {
  const perCrop = { additionCounts: "per crop" } as const;
  const nutrients = { P2O5: perCrop, K2O: perCrop };
  const alsoFor = [{ crop: "soybean", yieldBuPerAc: 60, nutrients: ["K2O"] as const }];
  const both = await runSample("single-field", [], (plan) => ({
    ...plan,
    fields: plan.fields.map((one) => ({ ...one, crop: "corn", yieldBuPerAc: 190, alsoFor, nutrients })),
  }));
  const one = both.fields[0]!;
  const { rows } = readOutOf(both.plan, one)(innerPoint(one.checked.boundary)!)!;
  const source = (label: string) => rows.find((row) => row.label === label)?.source.replace(/^[^,]*, /, "");
  expect(source("K₂O needed")).toBe("corn 190 bu/ac and soybean 60 bu/ac");
  expect(source("P₂O₅ needed")).toBe("corn 190 bu/ac");
});
