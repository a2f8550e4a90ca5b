import { beforeAll, expect, test } from "vitest";
import { containsPoint, type Point } from "../../src/geo/index.ts";
import type { FieldResult, RunResult } from "../../src/plan/index.ts";
import {
  fieldSheet,
  type GAP_IDS,
  gapIdsOf,
  layerIds,
  layerOf,
  legend,
  plat,
  readOutOf,
} from "../../src/report/index.ts";
import { runSample } from "./run-sample.ts";
import { faultsOf, readStrictly } from "./strict-xml.ts";

/** Nothing is broadcast, the phosphate is held to a cap, and potash is laid at one rate: short of both, over in K2O. */
let result: RunResult;
let field: FieldResult;

beforeAll(async () => {
  result = await runSample("single-field", [], (plan) => ({
    ...plan,
    split: { ...plan.split, capLbPerAc: 190 },
    rig: {
      ...plan.rig,
      bins: plan.rig.bins.map((bin) => (bin.product === "0-0-60" ? { ...bin, flatLbPerAc: 150 } : bin)),
    },
    fields: plan.fields.map((one) => ({ ...one, broadcast: "none" as const })),
  }));
  field = result.fields[0]!;
});

const pounds = (id: (typeof GAP_IDS)[number]): number => {
  const [side, nutrient] = id.split("/") as ["short" | "over", "P2O5" | "K2O"];
  const balance = field.balances.find((one) => one.nutrient === nutrient)!;
  return side === "short" ? balance.shortageLb : balance.excessLb;
};

/** The same field with one lb/ac everywhere on each side of the need. */
const withGaps = (shortLbPerAc: number, overLbPerAc: number): FieldResult => {
  const flat = (rate: number) => new Float64Array(field.swaths.areaAc.length).fill(rate);
  const gaps = { short: flat(shortLbPerAc), over: flat(overLbPerAc) };
  return { ...field, gaps: { P2O5: gaps, K2O: { short: flat(0), over: flat(0) } } };
};

test("a side of the need is offered only where it comes to more than half a lb/ac", () => {
  expect(gapIdsOf(withGaps(0, 0))).toEqual([]);
  expect(gapIdsOf(withGaps(0.45, 0.6))).toEqual(["over/P2O5"]);
  expect(gapIdsOf(withGaps(0.6, 0.45))).toEqual(["short/P2O5"]);
  const even = layerOf(result.plan, withGaps(0.45, 0), "short/P2O5");
  expect([even.least, even.most]).toEqual([0, 0]);
  expect(even.classes.labels[0]).toBe("none");
});

test("the layers hold the balance's pounds", () => {
  expect(gapIdsOf(field)).toEqual(expect.arrayContaining(["short/P2O5", "short/K2O", "over/K2O"]));
  expect(layerIds(result.plan, field).slice(-gapIdsOf(field).length)).toEqual(gapIdsOf(field));
  expect(pounds("short/P2O5")).toBeGreaterThan(100);
  expect(pounds("over/K2O")).toBeGreaterThan(100);
  for (const id of gapIdsOf(field)) {
    const layer = layerOf(result.plan, field, id);
    // What lies on no spreader cell is in the balance alone: slivers of the field's edge.
    expect(Math.abs(layer.lb! - pounds(id))).toBeLessThan(0.5);
    const shownLb = layer.values.reduce((lb, rate, i) => lb + (rate > 0 ? rate * layer.areaAc[i]! : 0), 0);
    expect(shownLb).toBeLessThanOrEqual(layer.lb! + 1e-6);
    expect(layer.lb! - shownLb).toBeLessThan(0.5 * field.checked.areaAc);
    for (const rate of layer.values) expect(rate > 0 && rate <= 0.5).toBe(false);
  }
});

test("a place within one spreader cell has that cell's lb/ac, on the map and in the read-out", () => {
  const { overlaps, pieces } = field.swaths;
  const piecesOf = new Map<number, number[]>();
  pieces.forEach((_, k) => {
    for (let i = overlaps.start[k]!; i < overlaps.start[k + 1]!; i++) {
      const cell = overlaps.cell[i]!;
      piecesOf.set(cell, [...(piecesOf.get(cell) ?? []), k]);
    }
  });
  const layer = layerOf(result.plan, field, "short/P2O5");
  const readOut = readOutOf(result.plan, field);
  const { grid, areaM2 } = field.cells;
  let met = 0;
  for (const [cell, [piece, ...others]] of piecesOf) {
    const gap = field.gaps.P2O5.short[piece!]!;
    if (others.length > 0 || gap < 1 || areaM2[cell]! < grid.cellM ** 2 - 1e-6) continue;
    met++;
    expect(Math.abs(layer.values[cell]! / gap - 1)).toBeLessThan(2e-3); // the plane's acres against the ellipsoid's
    const at: Point = [
      (grid.ix0 + (cell % grid.nx) + 0.5) * grid.cellM,
      (grid.iy0 + Math.floor(cell / grid.nx) + 0.5) * grid.cellM,
    ];
    if (!containsPoint(field.checked.boundary, at)) continue;
    const row = readOut(at)!.rows.find(({ label }) => label === "P₂O₅ short")!;
    expect(row.unit).toBe("lb P₂O₅/ac");
    expect(Number(row.value)).toBeCloseTo(layer.values[cell]!, 0);
  }
  expect(met).toBeGreaterThan(5);
});

test("drawn, keyed and printed in black alone; the field sheets have a page of each", () => {
  const html = fieldSheet(result, field);
  for (const id of gapIdsOf(field)) {
    const layer = layerOf(result.plan, field, id);
    const tenths = layer.classAreas.reduce((all, area) => all + Math.round(area * 10), 0);
    expect(tenths).toBe(Math.round(field.checked.areaAc * 10));
    for (const svg of [
      plat(result.plan, field, layer, { width: 620, height: 560, id: "a", inks: "black" }),
      legend(layer, { id: "b", inks: "black" }),
    ]) {
      expect(faultsOf(readStrictly(svg), true)).toEqual([]);
      expect(svg.match(/#[0-9a-f]{6}/g)!.every((ink) => ink === "#000000" || ink === "#ffffff")).toBe(true);
    }
    expect(html).toContain(`${layer.title}, ${layer.unit};`);
  }
  expect(html).toContain("Not covered");
  expect(html).toContain("More than needed");
});
