import { describe, expect, test } from "vitest";
import { guideStatus, ownGuide, recommend } from "../../src/agronomy/index.ts";

const base: Parameters<typeof recommend>[1] = {
  crop: "corn",
  nutrient: "P2O5",
  yieldBuPerAc: 180,
  test: 22,
  testMethod: "mehlich-3",
};
const codes = (result: { notices: readonly { code: string }[] }): string[] =>
  result.notices.map((notice) => notice.code);

describe("the user's own table", () => {
  const own = ownGuide({
    id: "own-table",
    name: "Table T",
    tables: [
      {
        test: "P",
        crop: "soybean",
        method: "mehlich-3",
        belowPpm: [6, 8, 10, 13],
        lbPerAc: [90, 65, 45, 20, 0],
      },
    ],
    lineTables: [
      {
        test: "K",
        crop: "soybean",
        method: "ammonium-acetate",
        points: [
          { ppm: 100, lbPerAc: 120 },
          { ppm: 200, lbPerAc: 20 },
        ],
      },
    ],
  });
  const p = (ppm: number): number => recommend(own, { ...base, crop: "soybean", test: ppm }).lbPerAc;
  const k = (ppm: number): number =>
    recommend(own, { ...base, crop: "soybean", nutrient: "K2O", testMethod: "ammonium-acetate", test: ppm })
      .lbPerAc;

  test("classes: a test on a limit is in the class above it, without rounding", () => {
    expect([0, 5.999, 6, 7.999, 8, 12.999, 13, 500].map(p)).toEqual([90, 90, 65, 65, 45, 20, 0, 0]);
  });

  test("straight-line pieces: level outside, straight between", () => {
    expect([0, 100, 150, 200, 300].map(k)).toEqual([120, 120, 70, 20, 20]);
  });

  test("straight lines that rise and fall: each point belongs to both its lines", () => {
    const hill = ownGuide({
      id: "hill",
      name: "Hill",
      tables: [],
      lineTables: [
        {
          test: "P",
          crop: "corn",
          method: "olsen",
          points: [
            { ppm: 5, lbPerAc: 10 },
            { ppm: 10, lbPerAc: 60 },
            { ppm: 12, lbPerAc: 0 },
          ],
        },
      ],
    });
    const rate = (ppm: number): number =>
      recommend(hill, { ...base, test: ppm, testMethod: "olsen" }).lbPerAc;
    expect([5, 7.5, 10, 10.5, 11, 12, 13].map(rate)).toEqual([10, 35, 60, 45, 30, 0, 0]);
    expect(hill.rules[0]!.neverRisesWithTest).toBe(false);
  });

  test("is the user's own: not unconfirmed, and takes either finish when it names none", () => {
    expect(guideStatus(own)).toBe("own");
    const result = recommend(own, { ...base, crop: "soybean", test: 7, testMethod: "mehlich-3-icp" });
    expect(codes(result)).toContain("finish-not-named");
    expect(codes(result)).not.toContain("guide-unconfirmed");
  });

  test("has no crop but its own", () => {
    expect(() => recommend(own, base)).toThrow(/has no rule for corn; it has soybean/);
  });

  test.each([
    ["limits that fall", { belowPpm: [8, 6], lbPerAc: [3, 2, 1] }, /must rise, 6 follows 8/],
    ["a rate too few", { belowPpm: [6, 8], lbPerAc: [3, 2] }, /2 rates for 3 classes/],
    ["a negative rate", { belowPpm: [6], lbPerAc: [3, -2] }, /the rate -2/],
  ])("refuses %s", (_name, table, message) => {
    expect(() =>
      ownGuide({ id: "t", name: "T", tables: [{ test: "P", crop: "corn", method: "olsen", ...table }] }),
    ).toThrow(message);
  });

  test("refuses two tables for one crop, nutrient and test", () => {
    const table = { test: "P", crop: "corn", method: "olsen", belowPpm: [6], lbPerAc: [3, 2] } as const;
    expect(() => ownGuide({ id: "t", name: "T", tables: [table, table] })).toThrow(/two tables/);
  });
});
