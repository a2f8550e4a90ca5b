import { describe, expect, test } from "vitest";
import { sum } from "../../src/numeric/index.ts";
import { readPlan, run, writePlan } from "../../src/plan/index.ts";
import { blendRatio, productById } from "../../src/products/index.ts";
import { needPlan, thrown, worked } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";
import { bins, blend, prices, resultOf, rig, split } from "../support/split-plan.ts";

describe("products", () => {
  test("N, S and the like that come along are counted by the analysis laid", async () => {
    const { fields } = await resultOf("DAP and sulfate of potash");
    const along = (nutrient: string) =>
      fields[0]!.alsoWanted.find((one) => one.nutrient === nutrient)!.alongLb;
    const lb = (product: string) =>
      sum(fields[0]!.prescriptions.filter((map) => map.product === product).map((map) => map.totalLb));
    expect(along("N")).toBeCloseTo(lb("18-46-0") * 0.18, 6);
    expect(along("S")).toBeCloseTo(lb("0-0-50-17S") * 0.17, 6);
  });

  test("a flat rate lies in every segment and counts under the cap", async () => {
    const field = (await resultOf("a flat rate of sulfate beside both")).fields[0]!;
    const flat = field.prescriptions.find((map) => map.product === "21-0-0-24S")!;
    expect([flat.minLbPerAc, flat.maxLbPerAc]).toEqual([40, 40]);
    expect(field.prescriptions.some((map) => map.pass === "broadcast" && map.product === "21-0-0-24S")).toBe(
      false,
    );
  });

  test("a spreader's own list brings what no bin holds", async () => {
    const field = (await resultOf("one bin alone and a spreader with both")).fields[0]!;
    const k2o = field.balances.find((one) => one.nutrient === "K2O")!;
    expect(k2o.stripLb).toBe(0);
    expect(k2o.broadcastLb).toBeGreaterThan(0.9 * k2o.needLb);
    const broadcast = field.prescriptions.filter((map) => map.pass === "broadcast");
    expect(broadcast.map((map) => [map.product, map.bin])).toEqual([
      ["0-46-0", "S1"],
      ["0-0-60", "S2"],
    ]);
    expect(productById("0-46-0").grade.p2o5).toBe(46);
  });

  test("totals take the plan's price of any product", async () => {
    const result = await worked({ plan: { rig: rig(bins("18-46-0", "0-0-60")), pricesUsdPerTon: prices } });
    const dap = result.totals.find((one) => one.product === "18-46-0" && one.pass === "all")!;
    expect(dap.usd).toBeCloseTo((700 * dap.lb) / 2_000, 6);
  });

  test.each([
    [{ rig: rig(bins("9-9-9")) }, /no product “?"?9-9-9/],
    [{ rig: rig(bins({ product: "11-52-0", flatLbPerAc: 50 })) }, /lays 11-52-0 at a flat rate/],
    [{ rig: rig(bins("46-0-0")) }, /brings neither P2O5 nor K2O/],
  ])("a bin that cannot be is refused with the reason", async (plan, why) => {
    const bytes = writePlan(needPlan({ plan }).plan);
    const error = await thrown(
      Promise.resolve().then(() => readPlan(bytes, "plan.json")),
      Error,
    );
    expect(error.message).toMatch(why);
  });
});

describe("blends", () => {
  test("c1: the ratio that covers both is the library's, and nothing is short before the strip is cut", async () => {
    const result = await worked({
      plan: {
        rig: rig(bins("mix")),
        blends: [blend({ rate: "cover-both" })],
        split: split({ capLbPerAc: 9_999 }),
        pricesUsdPerTon: prices,
      },
      field: { broadcast: "none" },
    });
    const [settled] = result.blends;
    const { cells, wanted, split: own } = result.fields[0]!;
    const cost = { p2o5PricePerLb: 780 / 2_000 / 0.52, k2oPricePerLb: 480 / 2_000 / 0.6 };
    const classes = [...cells.areaM2.keys()]
      .filter((i) => cells.areaM2[i]! > 0)
      .map((i) => ({
        id: String(i),
        areaAc: cells.areaM2[i]! / 4046.8564224,
        p2o5LbPerAc: wanted.p2o5LbPerAc[i]!,
        k2oLbPerAc: wanted.k2oLbPerAc[i]!,
      }));
    const exact = blendRatio({ classes, ...cost });
    // The plan's ratio is found on at most 100 classes of need.
    expect(settled!.facts.k2oPerP2o5! / exact.k2oPerP2o5).toBeCloseTo(1, 2);
    expect(settled!.facts.misfit! / exact.cost).toBeGreaterThan(0.9);
    expect(settled!.facts.misfit! / exact.cost).toBeLessThan(1.1);
    const grade = settled!.product.grade;
    own.products[0]!.strip.forEach((rate, i) => {
      if (!(cells.areaM2[i]! > 0)) return;
      expect((rate * grade.p2o5) / 100).toBeGreaterThanOrEqual(wanted.p2o5LbPerAc[i]! - 1e-6);
      expect((rate * grade.k2o) / 100).toBeGreaterThanOrEqual(wanted.k2oLbPerAc[i]! - 1e-6);
    });
  });

  test("c4: the analysis of the weighed batch goes into the maps", async () => {
    const result = await resultOf("a blend of typed shares");
    const [settled] = result.blends;
    const lb = settled!.facts.batch!.parts.map((part) => part.lb);
    expect(lb).toEqual([2_400, 2_400, 1_200]);
    const map = result.fields[0]!.prescriptions.find((one) => one.pass === "strip")!;
    expect(map.analysis.p2o5).toBeCloseTo((52 * 2_400) / 6_000, 9);
    expect(map.product).toBe("mix");
    const rounded = await worked({
      plan: {
        rig: rig(bins("mix")),
        blends: [blend({ batchLb: 1_000, stepLb: 50 })],
        split: split(),
        pricesUsdPerTon: prices,
      },
    });
    const grade = rounded.blends[0]!.product.grade;
    const weighed = rounded.blends[0]!.facts.batch!.parts.map((part) => part.lb);
    for (const part of weighed) expect(part % 50).toBe(0);
    expect(grade.p2o5).toBeCloseTo((52 * weighed[0]!) / 1_000, 9);
  });

  test("two ratios over the fields: each field gets the one that suits it, at less misfit than one for all", async () => {
    const { plan: base, files } = needPlan({
      plan: {
        rig: rig(bins("mix")),
        blends: [blend({ ratios: 2 })],
        split: split(),
        pricesUsdPerTon: prices,
      },
    });
    const [one] = base.fields;
    const plan = {
      ...base,
      fields: [
        { ...one!, id: "a", name: "A", needFrom: { kind: "flat" as const, lbPerAc: { P2O5: 40, K2O: 60 } } },
        { ...one!, id: "b", name: "B", needFrom: { kind: "flat" as const, lbPerAc: { P2O5: 60, K2O: 150 } } },
      ],
    };
    const result = await run(plan, sourceOf(files), { files: "later" });
    expect(result.refused).toEqual([]);
    expect(result.blends.map((settled) => settled.product.id)).toEqual(["mix1", "mix2"]);
    const laid = result.fields.map(
      (field) => field.prescriptions.find((map) => map.pass === "strip")!.product,
    );
    expect(new Set(laid).size).toBe(2);
    const saves = sum(result.blends.map(({ facts }) => facts.misfitOneRatio! - facts.misfit!));
    // Flat needs of 60/40 and 150/60: each field's own ratio fits it exactly.
    expect(result.blends.map(({ facts }) => facts.k2oPerP2o5)).toEqual([1.5, 2.5]);
    expect(saves).toBeGreaterThan(1);
    expect(result.totals.filter((total) => total.pass === "strip" && total.lb > 0)).toHaveLength(2);
  });

  test("urea with ammonium nitrate is refused when the plan is read; limited pairs are told in words", async () => {
    const rigMix = rig(bins("mix"));
    const never = {
      rig: rigMix,
      blends: [blend({ of: ["46-0-0", "34-0-0"], fit: "typed" as const, shares: [0.5, 0.5] })],
    };
    const bytes = writePlan(needPlan({ plan: never }).plan);
    const error = await thrown(
      Promise.resolve().then(() => readPlan(bytes, "plan.json")),
      Error,
    );
    expect(error.message).toMatch(/critical humidity is 18 percent/);
    const result = await resultOf("a blend of typed shares");
    const words = result.notices
      .filter((notice) => notice.code === "blend-pair")
      .map((notice) => notice.message);
    expect(words.join()).toMatch(/21-0-0-24S with 11-52-0|11-52-0 with 21-0-0-24S/);
    expect(result.notices.some((notice) => notice.code === "blend-humidity")).toBe(true);
  });
});
