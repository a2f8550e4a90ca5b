// The strip's rounding is no job for the spreader: invented small farm, rates by segment in steps of 10 lb.
import { expect, test } from "vitest";
import { type Plan, run } from "../../src/plan/index.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "../support/small-farm.ts";

const base = smallPlan();
const fieldOf = async (split: Plan["split"], rateStepLbPerAc = 10) => {
  const rig = { ...base.rig, segmentM: 30, rateStepLbPerAc, rates: "segments" as const };
  const { fields } = await run({ ...base, rig, split }, sourceOf(smallFarmFiles()));
  return fields[0]!;
};
const spreadOf = ({ prescriptions }: Awaited<ReturnType<typeof fieldOf>>) =>
  prescriptions.filter((map) => map.pass === "broadcast");

test("without a ceiling nothing is spread, and what rounding leaves is told as shortage and excess", async () => {
  const field = await fieldOf({ ...base.split, capLbPerAc: 2_000 });
  expect(spreadOf(field)).toEqual([]);
  for (const one of field.balances) {
    expect(one.broadcastLb).toBe(0);
    expect(one.shortageLb).toBeGreaterThan(0);
    expect(one.excessLb).toBeGreaterThan(0);
    // Half a step of a product on every acre at the very most, of its oxide.
    expect(one.shortageLb).toBeLessThan(0.6 * 5 * field.checked.areaAc);
    const sum =
      one.stripLb + one.broadcastLb + one.creditsLb + one.shortageLb - one.excessLb - one.roundingLb;
    expect(sum).toBeCloseTo(one.needLb, 6);
  }
});

test("under a ceiling that cuts one product, only that one is spread", async () => {
  const field = await fieldOf({ ...base.split, within: "first-11-52-0" });
  expect(spreadOf(field).map((map) => map.product)).toEqual(["0-0-60"]);
});

test("a product that no bin lays is spread whole", async () => {
  const bins = base.rig.bins.filter(({ product }) => product === "11-52-0");
  const spreader = { ...base.spreader, products: ["0-0-60"] };
  const plan = { ...base, rig: { ...base.rig, bins }, spreader, split: { ...base.split, capLbPerAc: 2_000 } };
  const { fields } = await run(plan, sourceOf(smallFarmFiles()));
  const [map] = fields[0]!.prescriptions.filter(({ pass }) => pass === "broadcast");
  const k2o = fields[0]!.balances.find(({ nutrient }) => nutrient === "K2O")!;
  expect(map!.product).toBe("0-0-60");
  expect(k2o.broadcastLb).toBeGreaterThan(0.95 * k2o.needLb);
});
