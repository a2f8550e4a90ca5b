// A blend beside a bin that brings one of its oxides alone: `rate` says what a place gets where the blend has too much of that one.
import { expect, test } from "vitest";
import { fieldProducts, type Plan } from "../../src/plan/index.ts";
import { fullRates } from "../../src/plan/need/full-rates.ts";
import { noNutrients } from "../../src/products/index.ts";
import { smallPlan } from "../support/small-farm.ts";

const GRADE = { ...noNutrients, p2o5: 34, k2o: 21 };

/** Rates of the blend and of 0-0-60 on ground that wants 34 lb P2O5 and 60, 21 and 0 lb K2O. */
function rates(
  rate?: "cover-both" | "least-misfit" | "no-excess",
  usdPerLbShort?: { P2O5: number },
): number[][] {
  const small = smallPlan();
  const [left, right] = small.rig.bins;
  const blend = {
    ...{ id: "mix", of: ["11-52-0", "0-0-60"], fit: "typed" as const, shares: [0.65, 0.35] },
    ...(rate === undefined ? {} : { rate }),
    ...(usdPerLbShort === undefined ? {} : { usdPerLbShort }),
  };
  const bins = [
    { ...left!, product: "mix" },
    { ...right!, product: "0-0-60" },
  ];
  const plan: Plan = { ...small, rig: { ...small.rig, bins }, blends: [blend] };
  const product = { id: "mix", name: "mix", grade: GRADE };
  const settled = { product, blend, fields: [plan.fields[0]!.id], parts: [], facts: {} };
  const laid = fieldProducts(plan, plan.fields[0]!.id, [settled] as unknown as Parameters<
    typeof fieldProducts
  >[2]);
  const wanted = { p2o5LbPerAc: Float64Array.of(34, 34, 34), k2oLbPerAc: Float64Array.of(60, 21, 0) };
  const full = fullRates(laid, wanted, { P2O5: 0.7, K2O: 0.4, known: true }, () => 1);
  return ["mix", "0-0-60"].map((id) => [...full[laid.bins.findIndex((bin) => bin.product.id === id)]!]);
}

test("no more than either needs: none where no K is wanted, and 0-0-60 fills up elsewhere", () => {
  // 100 lb bring 34 and 21; 60 - 21 = 39 lb K2O are 65 lb 0-0-60.
  const [mix, potash] = rates("no-excess");
  expect(mix!.map((lb) => lb.toFixed(6))).toEqual(["100.000000", "100.000000", "0.000000"]);
  expect(potash!.map((lb) => lb.toFixed(6))).toEqual(["65.000000", "0.000000", "0.000000"]);
});

test("enough for both: the P is brought, K or not", () => {
  expect(rates("cover-both")[0]!.map((lb) => lb.toFixed(6))).toEqual(Array(3).fill("100.000000"));
});

test("by worth: 34 lb P2O5 at $0.70 too little against 21 lb K2O at $0.40 too much, and the other way round", () => {
  expect(rates("least-misfit")[0]![2]).toBeCloseTo(100, 9);
  // $0.20 a lb P2O5 too little: 34 x 0.2 is less than 21 x 0.4.
  expect(rates("least-misfit", { P2O5: 0.2 })[0]![2]).toBe(0);
});

test("without a rate of its own by least squares, as before", () => {
  // x = 34 x 34 / (34^2 + 21^2) of 100 lb.
  expect(rates()[0]![2]).toBeCloseTo((100 * 34 * 34) / (34 ** 2 + 21 ** 2), 6);
  expect(rates()[0]![1]).toBeCloseTo(100, 6);
});
