import { describe, expect, test } from "vitest";
import { productById, saltPercent } from "../../src/products/index.ts";
import { lbPer1000Ft, type SaltInput, saltCap, saltLadder, saltThresholds } from "../../src/split/index.ts";
import { squareMetres } from "../../src/units/index.ts";

const base: SaltInput = {
  crop: "corn",
  rowSpacingIn: 30,
  separationIn: 2,
  bandDepthIn: 6,
  texture: "other",
  saltLbPerAc: [50, 70],
  products: ["11-52-0", "0-0-60"],
};
const without = (...keys: (keyof SaltInput)[]): SaltInput =>
  Object.fromEntries(
    Object.entries(base).filter(([key]) => !keys.includes(key as keyof SaltInput)),
  ) as unknown as SaltInput;

describe("limits with the seed", () => {
  // K-State starter table, read in a No-Till Farmer reprint: medium and fine soil 240 / row spacing; sandy 4, 6, 8.
  // Purdue, second-hand: sandy 5, heavier 8. The lower of the two counts.
  test.each([
    [40, 6, 4],
    [30, 8, 5],
    [20, 8, 5],
  ])("%d in. rows: %d, sandy %d lb/ac", (rowSpacingIn, other, sandy) => {
    const have = saltLadder({ ...base, rowSpacingIn, separationIn: 1 });
    expect([have.otherLimitLbPerAc, have.sandyLimitLbPerAc]).toEqual([other, sandy]);
  });
  test("the K-State table alone, Purdue's figures typed away", () => {
    const thresholds = { inFurrowOtherLbPerAc: 99, inFurrowSandyLbPerAc: 99 };
    const limits = [40, 30, 20].map((rowSpacingIn) => {
      const have = saltLadder({ ...base, rowSpacingIn, separationIn: 0, thresholds });
      return [have.otherLimitLbPerAc, have.sandyLimitLbPerAc];
    });
    expect(limits).toEqual([
      [6, 4],
      [8, 6],
      [12, 8],
    ]);
  });
  test("soybean closer than 2 in.: zero", () => {
    const have = saltLadder({ ...base, crop: "soybean", separationIn: 1.9, saltLbPerAc: [1] });
    expect([have.otherLimitLbPerAc, have.blocked]).toEqual([0, true]);
  });
});

describe("the ladder by distance", () => {
  test.each([
    [undefined, "in the furrow", 8],
    [1.99, "in the furrow", 8],
    [2, "2 x 2", 60],
    [3, "2 x 2", 60],
    [3.01, "beyond", 60],
  ] as const)("%s in.: %s", (separationIn, place, limit) => {
    const input = separationIn === undefined ? without("separationIn") : { ...base, separationIn };
    const have = saltLadder(input);
    expect([have.place, have.otherLimitLbPerAc]).toEqual([place, limit]);
    expect(have.blocked).toBe(place !== "beyond");
  });
  test("beyond 3 in. no block, a flag with lb per 1,000 ft until somebody takes note by name", () => {
    const open = saltLadder({ ...base, separationIn: 4 });
    expect([open.blocked, open.needsName, open.cellsOver]).toEqual([false, true, 1]);
    // 70 lb/ac in 30 in. rows: 70 x 30 / 522.72.
    expect(open.highestLbPer1000Ft).toBeCloseTo(4.0174, 4);
    expect(open.flags.map((flag) => flag.code)).toEqual(["salt-over-2x2-beyond"]);
    expect(open.flags[0]!.message).toContain("4.02 lb per 1,000 ft");
    const noted = saltLadder({ ...base, separationIn: 4, acknowledgedBy: "the agronomist" });
    expect([noted.needsName, noted.flags.length]).toEqual([false, 1]);
    expect(saltLadder({ ...base, separationIn: 4, saltLbPerAc: [60] }).flags).toEqual([]);
  });
  test("what is told is what is over: its own rate and limit, its acres; a sliver is not told", () => {
    // 59.2 lb/ac is below 60 on other soil; 35.2 is above 30 on sandy.
    const of = (...areaAc: number[]) =>
      saltLadder({
        ...without("texture"),
        cecMeq: [15, 11],
        sandyBelowCecMeq: 11.5,
        saltLbPerAc: [59.2, 35.2],
        areaM2: areaAc.map(squareMetres),
      });
    const [flag, ...more] = of(20, 0.25).flags;
    expect(more).toEqual([]);
    // 35.2 x 30 / 522.72 = 2.02.
    expect(flag!.message).toBe(
      "N + K2O + S reaches 35.2 lb/ac on sandy soil, 2.02 lb per 1,000 ft of row, over the limit of 30 there (2 x 2) on 0.3 ac: move it to broadcast or place the band farther from the seed; where the strip is cut to the limit already, steps of its rates pass it (make them finer), or stretches that each bin's meter follows by itself (take a rate for every segment)",
    );
    const sliver = of(20, 0.045);
    expect([sliver.flags, sliver.blocked]).toEqual([[], true]);
  });
  test("what is not answered is asked, and the lowest limit counts meanwhile", () => {
    const have = saltLadder(without("rowSpacingIn", "separationIn", "bandDepthIn", "texture"));
    expect(have.questions.map((question) => question.key)).toEqual([
      "row-spacing-in",
      "band-depth-in",
      "seed-distance-in",
      "soil-texture",
    ]);
    expect(have.overLbPerAc[0]).toBe(50 - 4);
    expect(saltLadder(base).questions).toEqual([]);
  });
});

test("texture by a typed CEC threshold, cell by cell; an unknown cell counts as sandy", () => {
  const input = {
    ...without("texture"),
    cecMeq: [5, 20, Number.NaN],
    sandyBelowCecMeq: 8,
    saltLbPerAc: [40, 40, 40],
  };
  expect([...saltLadder(input).overLbPerAc]).toEqual([10, 0, 10]);
});

test("strip and starter add up where they share the place; a NaN cell counts nothing", () => {
  const input = { ...base, saltLbPerAc: [50, Number.NaN], starterLbPerAc: 15, areaM2: [100, 100] };
  expect([...saltLadder(input).overLbPerAc]).toEqual([5, 0]);
  expect(saltLadder(input).areaOverM2).toBe(100);
  expect(saltLadder({ ...input, starterSharesPlace: false }).cellsOver).toBe(0);
  expect(saltCap(input, false)).toBe(45);
  expect(saltCap({ ...input, separationIn: 5 }, false)).toBeNull();
});

test("flags of their own: urea, 18-46-0, 21-0-0-24S on calcareous soil, boron, single caps", () => {
  const codes = (more: Partial<SaltInput>): string[] =>
    saltLadder({ ...base, saltLbPerAc: [0], ...more }).flags.map((flag) => flag.code);
  expect(codes({})).toEqual([]);
  expect(codes({ products: ["46-0-0", "18-46-0"] })).toEqual(["urea-near-seed", "dap-near-seed"]);
  expect(codes({ products: ["21-0-0-24S"], calcareous: true })).toEqual(["ams-on-calcareous"]);
  expect(codes({ products: ["21-0-0-24S"] })).toEqual(["ams-on-calcareous"]);
  expect(codes({ products: ["21-0-0-24S"], calcareous: false })).toEqual([]);
  expect(codes({ boronLbPerAc: 0.5 })).toEqual(["boron-near-seed"]);
  expect(codes({ boronLbPerAc: 0.5, separationIn: 4 })).toEqual([]);
  // MSU Extension 2009: corn 40 N, 100 P2O5, 100 K2O; soybean 100 P2O5, 80 K2O.
  expect(codes({ nLbPerAc: [41], p2o5LbPerAc: [100], k2oLbPerAc: [101] })).toEqual([
    "over-single-cap",
    "over-single-cap",
  ]);
  expect(codes({ crop: "soybean", k2oLbPerAc: [81] })).toEqual(["over-single-cap"]);
});

test("the sum is N + K2O + S of the strip's products", () => {
  const salt = (id: string, lb: number) => (lb * saltPercent(productById(id).grade)) / 100;
  const sum = Float64Array.of(salt("11-52-0", 100) + salt("0-0-60", 100) + salt("21-0-0-24S", 100));
  expect(sum[0]).toBeCloseTo(11 + 60 + 45, 9);
  expect(saltLadder({ ...base, saltLbPerAc: sum }).highestLbPerAc).toBeCloseTo(116, 9);
  expect(lbPer1000Ft(522.72, 1)).toBeCloseTo(1, 12);
  expect(Object.keys(saltThresholds).length).toBe(12);
});
