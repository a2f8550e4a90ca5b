import { describe, expect, test } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";

type Input = Parameters<typeof recommend>[1];
const base: Input = {
  crop: "corn",
  nutrient: "P2O5",
  yieldBuPerAc: 180,
  test: 22,
  testMethod: "mehlich-3",
  options: {},
};
const run = (guide: string, input: Partial<Input>): ReturnType<typeof recommend> =>
  recommend(guideById(guide), { ...base, ...input });

describe("on a limit", () => {
  const p = (guide: string, test: number, extra: Partial<Input> = {}): ReturnType<typeof recommend> =>
    run(guide, { test, ...extra });

  test("on the critical level a test is not below it", () => {
    expect(p("tri-state-2020", 20, { options: { rotation: "corn-soy" } }).band).toBe("maintenance");
    expect(p("kansas-sufficiency", 20, { testMethod: "bray-p1" }).lbPerAc).toBe(0);
    expect(p("kansas-sufficiency", 19.99, { testMethod: "bray-p1" }).lbPerAc).toBe(15);
    expect(p("nebraska", 20, { testMethod: "bray-p1", options: { previousCrop: "corn" } }).lbPerAc).toBe(0);
    expect(p("nebraska", 15, { testMethod: "bray-p1", options: { previousCrop: "soybean" } }).lbPerAc).toBe(
      0,
    );
    expect(p("nebraska", 15, { testMethod: "bray-p1", options: { previousCrop: "corn" } }).lbPerAc).toBe(40);
  });

  test("on the upper limit a test is still within, but in the 2020 guide it gets nothing", () => {
    const build = { testMethod: "bray-p1", options: { years: "4" } } as const;
    expect(p("kansas-build-maintain", 30, build).lbPerAc).toBeCloseTo(0.33 * 180, 9);
    expect(p("kansas-build-maintain", 30.01, build).lbPerAc).toBe(0);
    expect(p("tri-state-2020", 40, { options: { rotation: "corn-soy" } }).lbPerAc).toBe(0);
    expect(p("tri-state-2020", 40, { options: { rotation: "with-wheat-or-alfalfa" } }).lbPerAc).toBeCloseTo(
      63,
      9,
    );
  });

  test("CEC of exactly 5 is light soil in the 2020 guide, CEC of exactly 12 is heavy in Illinois", () => {
    const k = (cecMeq: number): string => run("tri-state-2020", { nutrient: "K2O", test: 110, cecMeq }).band;
    expect([k(5), k(5.01)]).toEqual(["maintenance", "below critical"]);
    const i = (cecMeq: number): string =>
      run("illinois", { nutrient: "K2O", test: 140, testMethod: "ammonium-acetate", cecMeq }).band;
    expect([i(11.99), i(12)]).toEqual(["maintenance", "below critical"]);
  });

  test("Iowa: tests are rounded to whole ppm first, the upper limit belongs to the class", () => {
    const band = (ppm: number): string => run("iowa-2013", { test: ppm, testMethod: "bray-p1" }).band;
    expect([band(15.4), band(15.5), band(20.49), band(20.5)]).toEqual(["low", "optimum", "optimum", "high"]);
  });
});

describe("after the years of build-up", () => {
  test("below the critical level removal alone remains", () => {
    const options = { rotation: "corn-soy" };
    const over = run("tri-state-2020", { options, test: 10, buildUp: false });
    expect(over.lbPerAc).toBeCloseTo(63, 9);
    expect(over.steps.join(" ")).toContain("years of build-up are over");
    expect(run("tri-state-2020", { options, test: 30, buildUp: false }).lbPerAc).toBeCloseTo(63, 9);
  });
});

describe("the arithmetic in words", () => {
  test("build-up, K with CEC, drawdown, none", () => {
    expect(run("tri-state-2020", { test: 10, options: { rotation: "corn-soy" } }).steps).toEqual([
      "Critical level 20 ppm; the test, 10 ppm P, is below it.",
      "Build-up: (20 - 10) x (20) lb / 4 years = 50 lb P2O5/ac a year.",
      "Removal: 180 bu x 0.35 lb = 63 lb P2O5/ac.",
      "Together 113 lb P2O5/ac.",
    ]);
    expect(
      run("tri-state-1995", {
        nutrient: "K2O",
        test: 75,
        yieldBuPerAc: 160,
        cecMeq: 10,
        testMethod: "ammonium-acetate",
      }).steps,
    ).toEqual([
      "Critical level 75 + 2.5 x CEC 10 = 100 ppm; the test, 75 ppm K, is below it.",
      "Build-up: (100 - 75) x (1 + 0.05 x CEC 10 = 1.5) lb = 37.5 lb K2O/ac a year.",
      "Removal: 160 bu x 0.27 lb = 43.2 lb K2O/ac.",
      "The guide adds 20 lb K2O/ac (here once a crop; the text read does not say): 63.2 lb/ac.",
      "Together 100.7 lb K2O/ac.",
      "To 5 lb: 100 lb K2O/ac.",
    ]);
    expect(run("tri-state-1995", { test: 35, testMethod: "bray-p1" }).steps[2]).toContain(
      "Drawdown from 30 to 40 ppm: share 0.5, 33.3 lb",
    );
    expect(run("tri-state-2020", { test: 40, options: { rotation: "corn-soy" } }).steps[1]).toBe(
      "At 40 ppm and above the guide gives no P2O5.",
    );
    expect(
      run("kansas-build-maintain", { test: 31, testMethod: "bray-p1", options: { years: "4" } }).steps[1],
    ).toBe("Above 30 ppm the guide gives no P2O5.");
  });
});
