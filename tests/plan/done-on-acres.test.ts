import { describe, expect, test } from "vitest";
import { fieldStands, type LedgerEntry, type LogSpan } from "../../src/ledger/index.ts";
import { plannedFields } from "../../src/plan/stands/ledger-of-plan.ts";
import { stillToPlaceLb, stillToPlaceNotices } from "../../src/plan/stands/still-to-place.ts";
import { noNutrients } from "../../src/products/index.ts";

const ANALYSIS = { ...noNutrients, n: 11, p2o5: 52 };

/** A field of six pieces of 10 ac side by side, a unit wide, with the lb/ac of its strip map on each; its plane is in degrees. */
function fieldOf(rateLbPerAc: readonly number[]) {
  const pieces = rateLbPerAc.map((_, x) => ({
    polygon: [
      [
        [x, 0],
        [x + 1, 0],
        [x + 1, 9],
        [x, 9],
      ],
    ],
  }));
  const totalLb = rateLbPerAc.reduce((total, rate) => total + 10 * rate, 0);
  const map = {
    ...{ pass: "strip", product: "11-52-0", stem: "HOME", analysis: ANALYSIS, totalLb, rateLbPerAc },
    maxLbPerAc: Math.max(...rateLbPerAc),
  };
  return {
    field: { id: "home", name: "Home" },
    checked: { areaAc: 60, frame: { toPlane: (place: readonly number[]) => place } },
    passes: { pieces, areaAc: rateLbPerAc.map(() => 10) },
    prescriptions: [map],
  } as unknown as Parameters<typeof plannedFields>[0][number];
}

/** What the order has of the map as left once so many lb lie on so many acres, and what it says of it. */
function orderWith(rates: readonly number[], lb: number, areaAc: number, box?: LogSpan["box"]) {
  const field = fieldOf(rates);
  const span: LogSpan | undefined =
    box === undefined ? undefined : { readings: 9, first: [0, 0], last: [1, 1], box };
  const entry = {
    ...{ number: 1, date: "2027-04-14", kind: "placed", fieldId: "home", pass: "strip", map: "HOME" },
    ...{ product: "11-52-0", lb, areaAc, p2o5Lb: 0.52 * lb, k2oLb: 0, revision: "", from: "log", span },
  } as unknown as LedgerEntry;
  const [stand] = fieldStands([entry], plannedFields([field]));
  const left = stillToPlaceLb(field.prescriptions[0]!, field.prescriptions, stand);
  const told = stillToPlaceNotices(field, [], stand).find(({ code }) => code === "placed-by-acres")?.message;
  return { left, told };
}

/** A log's readings all over the field. */
const ALL_OVER = [0, 0, 6, 9] as const;

/** 3,000 lb, all on one half of the field. */
const PATCHY = [100, 100, 100, 0, 0, 0];

describe("pounds beyond what the map has on as many acres", () => {
  test("a meter over by whatever leaves nothing of a map that lay wholly on the acres driven", () => {
    // 33 ac: 3,000 lb at most, 300 at least (30 ac with none and 3 with 100).
    for (const lb of [3_000, 3_090, 3_149, 3_151, 3_240, 3_600])
      expect(orderWith(PATCHY, lb, 33, ALL_OVER).left).toBeCloseTo(0, 6);
    // On 20 ac 2,000 at most: 1,000 are left, however much over those were laid.
    for (const lb of [2_000, 2_090, 2_160, 2_400])
      expect(orderWith(PATCHY, lb, 20, ALL_OVER).left).toBeCloseTo(1_000, 6);
  });

  test("beyond that towards the mean rate on the acres, without a jump", () => {
    // 1.6 times is half way from 1.2 to 2: 1,000 by the most, 3,000 x 40 / 60 = 2,000 by the acres.
    expect(orderWith(PATCHY, 3_200, 20, ALL_OVER).left).toBeCloseTo(1_500, 6);
    expect(orderWith(PATCHY, 4_000, 20, ALL_OVER).left).toBeCloseTo(2_000, 6);
    expect(orderWith(PATCHY, 9_000, 20, ALL_OVER).left).toBeCloseTo(2_000, 6);
    for (let lb = 1_000; lb < 4_500; lb += 10) {
      const step = orderWith(PATCHY, lb + 10, 20, ALL_OVER).left - orderWith(PATCHY, lb, 20, ALL_OVER).left;
      expect(Math.abs(step)).toBeLessThan(10.001);
    }
  });

  test("less than the least: that least is done, half of it says nothing any more", () => {
    // 40 ac: 10 with 100 and 30 with none.
    expect(orderWith(PATCHY, 1_000, 40, ALL_OVER).left).toBeCloseTo(2_000, 6);
    expect(orderWith(PATCHY, 920, 40, ALL_OVER).left).toBeCloseTo(2_000, 6);
    expect(orderWith(PATCHY, 840, 40, ALL_OVER).left).toBeCloseTo(2_000, 6);
    // 3,000 x 20 / 60.
    expect(orderWith(PATCHY, 500, 40, ALL_OVER).left).toBeCloseTo(1_000, 6);
    expect(orderWith(PATCHY, 840, 40, ALL_OVER).told).toBe(
      "Home: by the ledger 840 lb 11-52-0 lie where this plan's strip map has 1,000 lb at least on as many acres (a meter that laid less or a plan changed since does that): 1,000 lb of the map count as done and 2,000 lb as left (0 lb to 2,000 lb, by which acres those are); `remainder` works out what is left on the ground, by the logs or by the pass that is done; 160 lb lack on the acres done, which no map and no order has",
    );
  });

  test("of typed pounds, which no log places, the mean counts sooner, without a jump", () => {
    // 20 ac: 2,000 at most, at the mean 1,000. 1.125 times is half way from 1.05 to 1.2.
    expect(orderWith(PATCHY, 2_100, 20).left).toBeCloseTo(1_000, 6);
    expect(orderWith(PATCHY, 2_250, 20).left).toBeCloseTo(1_500, 6);
    expect(orderWith(PATCHY, 2_400, 20).left).toBeCloseTo(2_000, 6);
    // 40 ac: 1,000 at least, at the mean 2,000. 960 lb are within a twentieth, 800 beyond a fifth.
    expect(orderWith(PATCHY, 960, 40).left).toBeCloseTo(2_000, 6);
    expect(orderWith(PATCHY, 800, 40).left).toBeCloseTo(1_000, 6);
    for (let lb = 1_000; lb < 4_500; lb += 10) {
      const step = orderWith(PATCHY, lb + 10, 20).left - orderWith(PATCHY, lb, 20).left;
      expect(Math.abs(step)).toBeLessThan(34);
    }
  });

  test("the notice names no cause that it does not know, and nothing within what meters miss by", () => {
    expect(orderWith(PATCHY, 3_240, 33, ALL_OVER).told).toBe(
      "Home: by the ledger 3,240 lb 11-52-0 lie where this plan's strip map has 3,000 lb at most on as many acres (a meter that laid more, ground driven twice or a plan changed since does that): 3,000 lb of the map count as done and 0 lb as left (0 lb to 2,700 lb, by which acres those are); `remainder` works out what is left on the ground, by the logs or by the pass that is done",
    );
    expect(orderWith(PATCHY, 3_140, 33, ALL_OVER).told).toBeUndefined();
  });
});

describe("where logs say on which ground pounds lie", () => {
  const FALLING = [100, 80, 60, 40, 20, 0];

  test("what the map has there is done, whatever the meter laid on it", () => {
    // Pieces four to six hold 600 of the 3,000 lb; the readings end on the middle of a pass, half a piece before the next.
    const box = [3.5, 0, 5.5, 9] as const;
    for (const lb of [560, 600, 660, 700]) expect(orderWith(FALLING, lb, 30, box).left).toBeCloseTo(2_400, 6);
    expect(orderWith(FALLING, 700, 30, box).told).toContain("strip map has 600 lb on as many acres");
    // Without a log the pounds may lie anywhere: 600 to 2,400 lb on as many acres.
    expect(orderWith(FALLING, 700, 30).left).toBeCloseTo(2_300, 6);
    // Other pounds altogether, as after a change of the plan: the mean rate of that ground.
    expect(orderWith(FALLING, 2_400, 29, box).left).toBeCloseTo(3_000 - (600 * 29) / 30, 6);
  });

  test("ground with fewer acres than are entered tells nothing", () => {
    // 40 ac of the whole: 1,200 lb at least, 2,800 at most.
    expect(orderWith(FALLING, 1_500, 40, [3.5, 0, 5.5, 9]).left).toBeCloseTo(1_500, 6);
  });
});
