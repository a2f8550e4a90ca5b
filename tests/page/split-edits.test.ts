import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { withBin, withRigWork, withTender } from "../../app/src/state/rig-edits.ts";
import {
  withBandFactor,
  withBinsAlone,
  withBlend,
  withMethod,
  withOneBlend,
  withOptimum,
  withProduct,
  withSeed,
  withSplit,
  withStarter,
} from "../../app/src/state/split-edits.ts";
import { type Plan, readPlan, type SplitMethod, writePlan } from "../../src/plan/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { sample } from "./support/browser.ts";

const plan = barePlan(
  readPlan(new Uint8Array(readFileSync(join(sample("home-farm"), "plan.json"))), "plan.json"),
);
/** The plan as it comes back from its file: a plan the schema refuses throws. */
const saved = (of: Plan): Plan => readPlan(writePlan(of), "plan.json");

describe("edits of the split", () => {
  it("every way leads to every other, and what the cap limits stays for the way back", () => {
    const all: readonly SplitMethod[] = ["ceiling", "share", "priority", "optimum"];
    const cells = { ...plan, split: { ...plan.split, capBasis: "most-in-a-cell" as const } };
    for (const method of all) {
      const changed = saved(withMethod(cells, method).plan);
      expect(changed.split.method).toBe(method);
      expect(saved(withMethod(changed, "ceiling").plan).split).toEqual({ ...cells.split, method: "ceiling" });
    }
  });

  it("figures go in and, emptied, out again without a trace", () => {
    const starter = withStarter(plan, "P2O5", 20);
    expect(starter.name).toBe("starter P₂O₅ 20 lb/ac");
    expect(saved(starter.plan).split.starterLbPerAc).toEqual({ P2O5: 20 });
    expect(withStarter(starter.plan, "P2O5", null).plan).toEqual(plan);
    const money = withOptimum(plan, { usdPerRigHour: 600 }, "rig hour $600");
    expect(saved(money.plan).split.optimum).toEqual({ usdPerRigHour: 600 });
    expect(withOptimum(money.plan, { usdPerRigHour: null }, "").plan).toEqual(plan);
    const day = withSplit(plan, { acresPerDay: 240 }, "");
    expect(saved(day.plan).split.acresPerDay).toBe(240);
    expect(withSplit(day.plan, { acresPerDay: null }, "").plan).toEqual(plan);
    const seed = withSeed(plan, { distanceIn: 5 }, "");
    expect(saved(seed.plan).seed).toEqual({ distanceIn: 5 });
    expect(withSeed(seed.plan, { distanceIn: null }, "").plan).toEqual(plan);
  });

  it("the band factor is one figure, or one a guide where the plan has them so", () => {
    expect(saved(withBandFactor(plan, null, 0.7).plan).split.bandFactorP2O5).toBe(0.7);
    const by = { ...plan, split: { ...plan.split, bandFactorP2O5: { "isu-pm1688": 0.8, own: 0.9 } } };
    const changed = withBandFactor(by, "own", 0.6);
    expect(changed.name).toBe("band factor P₂O₅ 0.6, own");
    expect(saved(changed.plan).split.bandFactorP2O5).toEqual({ "isu-pm1688": 0.8, own: 0.6 });
    const less = withBandFactor(changed.plan, "own", 1).plan;
    expect(withBandFactor(less, "isu-pm1688", null).plan.split.bandFactorP2O5).toBeUndefined();
  });

  it("the rig is told figure by figure; without a speed nothing of its work stays", () => {
    const slow = withRigWork(plan, { mph: 7 }, "").plan;
    const day = withRigWork(slow, { hoursPerDay: 11 }, "").plan;
    expect(saved(day).rig.work).toEqual({ mph: 7, hoursPerDay: 11 });
    expect(withRigWork(day, { mph: null }, "").plan).toEqual(plan);
    const bins = withBin(plan, "L", { volumeFt3: 105 }, "").plan;
    expect(saved(bins).rig.bins[0]).toMatchObject({ id: "L", volumeFt3: 105 });
    expect(withBin(bins, "L", { volumeFt3: null }, "").plan).toEqual(plan);
    const tender = withTender(plan, { count: 2 }, "").plan;
    expect(saved(tender).tender).toEqual({ count: 2, lb: 24_000 });
    expect(withTender(tender, null, "").plan).toEqual(plan);
  });

  it("another product, one blend, and back to a bin each", () => {
    const dap = saved(withProduct(plan, "L", "18-46-0").plan);
    expect(dap.rig.bins.map((bin) => bin.product)).toEqual(["18-46-0", "0-0-60"]);
    const blended = withOneBlend(plan);
    expect(blended.name).toBe("one bin, one blend of 11-52-0 and 0-0-60");
    const one = saved(blended.plan);
    expect(one.rig.bins.map((bin) => bin.product)).toEqual(["mix"]);
    const batch = saved(withBlend(one, "mix", { batchLb: 12_000, ratios: 2 }, "").plan);
    expect(batch.blends![0]).toMatchObject({ batchLb: 12_000, ratios: 2 });
    const apart = saved(withBinsAlone(batch).plan);
    expect(apart.blends).toBeUndefined();
    expect(apart.rig.bins.map((bin) => [bin.id, bin.product])).toEqual([
      ["L", "11-52-0"],
      ["R", "0-0-60"],
    ]);
    // A blend that no bin holds any more leaves the plan.
    expect(saved(withProduct(one, "L", "0-0-60").plan).blends).toBeUndefined();
  });
});
