import { describe, expect, test } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import { needOfNutrient } from "../../src/need/index.ts";
import { acres } from "../../src/units/index.ts";
import { areaM2, column, fieldLb, totals } from "../support/chain-need.ts";
import { needOverCells } from "../support/need-over-cells.ts";
import { soybeanNeeds, tableTGuide } from "../support/soybean-needs.ts";

const reading = { method: "mehlich-3", unit: "ppm", basis: "element" } as const;

// Reference: tests/data/chain-need (our own R script on the gstat data set oxford).
describe("soybean need on 12,472 cells against R", () => {
  test.each([
    ["equations_2020", "e20"],
    ["table_T", "T"],
  ] as const)("%s cell by cell, 6 digits", (guide, key) => {
    const needs = soybeanNeeds(guide, "fix");
    for (const [have, want] of [
      [needs.p2o5LbPerAc, column(`${key}_p2o5`)],
      [needs.k2oLbPerAc, column(`${key}_k2o`)],
    ] as const) {
      let worst = 0;
      for (let i = 0; i < want.length; i++)
        worst = Math.max(worst, Math.abs(have[i]! - want[i]!) / Math.max(1, want[i]!));
      // P needs follow 5 lb per ppm of a test rounded to 6 digits.
      expect(worst).toBeLessThan(5e-6);
    }
  });

  test.each([
    ["ok_fixed", "fix", "equations_2020"],
    ["ok_fixed", "fix", "table_T"],
    ["ok_averaged", "avg", "equations_2020"],
    ["ok_averaged", "avg", "table_T"],
  ] as const)(
    "%s (%s) %s: field totals to 1e-6, smallest, largest, acres without need",
    (map, columns, guide) => {
      const needs = soybeanNeeds(guide, columns);
      const want = totals.soybean[map][guide];
      for (const [have, total] of [
        [needs.p2o5LbPerAc, want.P2O5],
        [needs.k2oLbPerAc, want.K2O],
      ] as const) {
        expect(Math.abs(fieldLb(have) / total.lb - 1)).toBeLessThan(1e-6);
        // One cell alone feels that its K is given to 6 digits: 5e-4 ppm x (1 + 0.05 x 43) lb.
        expect(Math.abs(Math.min(...have) - total.min)).toBeLessThan(1.6e-3);
        expect(Math.abs(Math.max(...have) - total.max)).toBeLessThan(1.6e-3);
        const zero = fieldLb(have.map((rate) => (rate === 0 ? 1 : 0)));
        expect(zero).toBeCloseTo(total.acres_zero, 3);
      }
    },
  );

  test("acres in the classes of table T", () => {
    for (const [nutrient, name] of [
      ["P2O5", "P"],
      ["K2O", "K"],
    ] as const) {
      const rates = nutrient === "P2O5" ? [90, 65, 45, 20, 0] : [120, 95, 70, 35, 0];
      const needs = needOfNutrient(
        tableTGuide,
        nutrient,
        { crop: "soybean", yieldBuPerAc: 60, reading },
        column(`${name}_fix`),
      ).lbPerAc;
      rates.forEach((rate, i) => {
        const inClass = fieldLb(needs.map((value) => (value === rate ? 1 : 0)));
        expect(inClass).toBeCloseTo(totals.classes_T.ok_fixed[name][`class${i + 1}`]!, 3);
      });
    }
  });
});

describe("needOverCells", () => {
  const guide = guideById("tri-state-2020");
  const inputs = {
    crop: "soybean",
    yieldBuPerAc: 60,
    p: reading,
    k: reading,
    options: { rotation: "corn-soy" },
  } as const;

  test("gives each cell what `recommend` gives the same test", () => {
    const p = Float64Array.of(5, 20, 39.99, 40, 60);
    const k = Float64Array.of(80, 119.9, 120, 170, 300);
    const cec = Float64Array.of(4, 5, 6, 20, 30);
    const needs = needOverCells(guide, inputs, { p, k, cec });
    p.forEach((test, i) => {
      const one = {
        crop: "soybean",
        yieldBuPerAc: 60,
        testMethod: "mehlich-3",
        cecMeq: cec[i]!,
        options: inputs.options,
      } as const;
      expect(needs.p2o5LbPerAc[i]).toBe(recommend(guide, { ...one, nutrient: "P2O5", test }).lbPerAc);
      expect(needs.k2oLbPerAc[i]).toBe(recommend(guide, { ...one, nutrient: "K2O", test: k[i]! }).lbPerAc);
    });
  });

  test("NaN in a test or a CEC that counts gives NaN there and nowhere else; inputs stay as they are", () => {
    const p = Float64Array.of(Number.NaN, 10);
    const k = Float64Array.of(100, 100);
    const cec = Float64Array.of(10, Number.NaN);
    const needs = needOverCells(guide, inputs, { p, k, cec });
    expect([...needs.p2o5LbPerAc].map(Number.isNaN)).toEqual([true, false]);
    expect([...needs.k2oLbPerAc].map(Number.isNaN)).toEqual([false, true]);
    expect([...p]).toEqual([Number.NaN, 10]);
  });

  test("yields by cell", () => {
    const tests = { p: Float64Array.of(30, 30), k: Float64Array.of(150, 150), cec: Float64Array.of(10, 10) };
    const needs = needOverCells(guide, { ...inputs, yieldBuPerAc: Float64Array.of(40, 60) }, tests);
    expect(needs.p2o5LbPerAc[0]).toBeCloseTo(0.79 * 40, 9);
    expect(needs.p2o5LbPerAc[1]).toBeCloseTo(0.79 * 60, 9);
  });

  test("Iowa 2013 rounds mapped tests to whole ppm, the others do not", () => {
    const p = Float64Array.of(15.49, 15.51);
    const iowa = needOfNutrient(
      guideById("iowa-2013"),
      "P2O5",
      { crop: "corn", yieldBuPerAc: 180, reading: { method: "bray-p1" } },
      p,
    );
    expect([...iowa.lbPerAc]).toEqual([75, 0.32 * 180]);
    const kansas = needOfNutrient(
      guideById("kansas-sufficiency"),
      "P2O5",
      { crop: "corn", yieldBuPerAc: 180, reading: { method: "bray-p1" } },
      p,
    );
    expect(kansas.lbPerAc[0]! - kansas.lbPerAc[1]!).toBeCloseTo(0.02 * (2.5 + 1.8), 9);
  });

  test("no CEC map where the guide hangs on CEC is refused; where it does not it is not asked", () => {
    const k = Float64Array.of(150);
    const p = Float64Array.of(10);
    expect(() => needOverCells(guide, inputs, { p, k })).toThrow(/there is no map of it/);
    expect(needOfNutrient(guide, "P2O5", { ...inputs, reading }, p).lbPerAc[0]).toBeCloseTo(97.4, 9);
  });

  test("a notice said by both nutrients is said once", () => {
    const tests = { p: Float64Array.of(30), k: Float64Array.of(150) };
    const { notices } = needOverCells(
      guideById("iowa-2013"),
      { crop: "corn", yieldBuPerAc: 180, p: { method: "olsen" }, k: { method: "ammonium-acetate" } },
      tests,
    );
    expect(notices.filter((notice) => notice.code === "guide-superseded")).toHaveLength(1);
  });

  test("the acres of the cells are those of the reference", () => {
    expect(acres(areaM2.reduce((a, b) => a + b, 0))).toBeCloseTo(305.942573841045, 4);
  });
});
