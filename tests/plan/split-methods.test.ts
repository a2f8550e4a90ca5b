import { describe, expect, test } from "vitest";
import { sum } from "../../src/numeric/index.ts";
import type { FieldProducts, Plan, RunResult } from "../../src/plan/index.ts";
import { oxideIn, rigFigures } from "../../src/plan/index.ts";
import { splitLines } from "../../src/report/index.ts";
import { worked } from "../support/need-plan.ts";
import {
  bins,
  blend,
  cases,
  prices,
  resultOf,
  rig,
  split,
  splitMean,
  stripMean,
  usual,
  work,
} from "../support/split-plan.ts";

// The balance of a run in its two tolerances: what the files place, what is short and what is too much make up the need to
// 1e-9 of it before the spreader's steps (run itself throws otherwise), and to half a step a piece after them.
describe.each(cases)("$name", ({ name }) => {
  test("the balance closes in both tolerances, and nothing is negative", async () => {
    const [field] = (await resultOf(name)).fields;
    for (const { nutrient, needLb, stripLb, broadcastLb, shortageLb, excessLb, roundingLb } of field!
      .balances) {
      const placed = (pass: string) =>
        sum(
          field!.prescriptions
            .filter((map) => map.pass === pass)
            .map((map) => map.totalLb * oxideIn(map.analysis, nutrient)),
        );
      expect(Math.abs(placed("strip") - stripLb)).toBeLessThan(1e-6 * Math.max(1, needLb));
      expect(Math.abs(placed("broadcast") - broadcastLb)).toBeLessThan(1e-6 * Math.max(1, needLb));
      expect(Math.abs(stripLb + broadcastLb + shortageLb - excessLb - roundingLb - needLb)).toBeLessThan(
        1e-9 * Math.max(1, needLb),
      );
      // Steps of 5 lb/ac of product on the spreader's cells, carried on: half a step on one piece is left.
      expect(Math.abs(roundingLb)).toBeLessThan(Math.max(4, 0.001 * needLb));
      expect(shortageLb).toBeGreaterThanOrEqual(0);
      expect(excessLb).toBeGreaterThanOrEqual(0);
    }
    for (const { full, strip } of field!.split.products) {
      strip.forEach((rate, i) => {
        if (Number.isNaN(rate)) return;
        expect(rate).toBeGreaterThanOrEqual(0);
        expect(rate).toBeLessThanOrEqual(full[i]! + 1e-6);
      });
    }
    for (const map of field!.prescriptions) expect(map.minLbPerAc).toBeGreaterThanOrEqual(0);
  });
});

describe("methods side by side", () => {
  test.each(["ceiling", "ceiling, alike", "share", "priority over the field", "optimum under the cap"])(
    "%s keeps the field's mean at the cap before steps",
    async (name) => {
      const result = await resultOf(name);
      expect(splitMean(result, 0) + splitMean(result, 1)).toBeCloseTo(120, 4);
      expect(Math.abs(stripMean(result) - 120)).toBeLessThan(2.5);
    },
  );

  test("by priority build-up leaves the strip before anything else, and potash before phosphate", async () => {
    const { layers } = (await resultOf("priority over the field")).fields[0]!.split;
    expect(layers.map((layer) => layer.name)).toEqual([
      "starter, P2O5",
      "starter, K2O",
      "below critical, P2O5",
      "below critical, K2O",
      "maintenance, P2O5",
      "maintenance, K2O",
      "build-up, P2O5",
      "build-up, K2O",
    ]);
    // Whole parts stay, then one is cut, then none stays.
    const kept = layers.filter((layer) => layer.needLb > 1).map((layer) => layer.stripLb / layer.needLb);
    const cut = kept.findIndex((share) => share < 1 - 1e-9);
    expect(cut).toBeGreaterThan(0);
    for (const share of kept.slice(0, cut)) expect(share).toBeCloseTo(1, 9);
    for (const share of kept.slice(cut + 1)) expect(share).toBeCloseTo(0, 9);
  });

  test("a changed order keeps potash first", async () => {
    const order = [
      "build-up-K2O",
      "maintenance-K2O",
      "below-critical-K2O",
      "below-critical-P2O5",
      "maintenance-P2O5",
      "build-up-P2O5",
    ] as const;
    const turned = await worked({ plan: { split: split({ method: "priority", order, capLbPerAc: 60 }) } });
    const usualOrder = await worked({ plan: { split: split({ method: "priority", capLbPerAc: 60 }) } });
    expect(splitMean(turned, 1)).toBeGreaterThan(splitMean(usualOrder, 1) + 5);
  });

  test("the starter stays in every cell that wants it", async () => {
    const { split: own, wanted } = (await resultOf("ceiling with a starter")).fields[0]!;
    const [p, k] = own.products;
    wanted.p2o5LbPerAc.forEach((need, i) => {
      if (Number.isNaN(need)) return;
      expect(p!.strip[i]! * 0.52).toBeGreaterThanOrEqual(Math.min(need, 20) - 1e-6);
      expect(k!.strip[i]! * 0.6).toBeGreaterThanOrEqual(Math.min(wanted.k2oLbPerAc[i]!, 20) - 1e-6);
    });
  });

  test("the optimum says what one more pound in the strip is worth and by what it is limited", async () => {
    const { optimum } = (await resultOf("optimum under the cap")).fields[0]!.split;
    expect(optimum!.worth.words).toMatch(/^\$0\.0\d\d a pound; the limit is the mean rate$|nothing limits/);
    expect(optimum!.classes).toBeLessThanOrEqual(100);
    const hours = (await resultOf("optimum by hours and passes")).fields[0]!.split.optimum!;
    expect(hours.hours).toBeGreaterThan(0);
    expect(Math.min(hours.usdWithPass!, hours.usdWithoutPass!)).toBeCloseTo(
      hours.pass ? hours.usdWithPass! : hours.usdWithoutPass!,
      6,
    );
  });

  test("a pass is weighed under the cap: where that leaves need out without one, no figure stands beside it", async () => {
    const under = async (capLbPerAc: number) => {
      const optimum = { usdPerRigHour: 250, usdPerAcPass: 7.5 };
      const { plan, fields } = await worked({
        plan: { split: split({ method: "optimum", optimum, capLbPerAc }), pricesUsdPerTon: prices },
      });
      return { ...fields[0]!.split.optimum!, lines: splitLines(plan, fields[0]!.split) };
    };
    const tight = await under(120);
    expect([tight.pass, tight.usdWithoutPass]).toEqual([true, null]);
    const said = (of: typeof tight) =>
      of.lines.find(({ label }) => label === "One more pound in the strip")!.text;
    expect(said(tight)).toContain("; without one the strip's limits do not let the whole need in.");
    const wide = await under(1_000);
    expect(wide.pass).toBe(wide.usdWithPass! < wide.usdWithoutPass!);
    expect(said(wide)).toMatch(wide.pass ? /: it pays\./ : /: it does not pay\./);
    // The way chosen costs what stands beside it.
    expect(wide.objectiveUsd).toBeCloseTo(Math.min(wide.usdWithPass!, wide.usdWithoutPass!), 4);
    expect(tight.objectiveUsd).toBeCloseTo(tight.usdWithPass!, 4);
  });

  test("where the cap leaves need out and nothing else brings it, no $ are told for a pound of it", async () => {
    const optimum = { usdPerLbPlaced: { P2O5: 0.3, K2O: 0.1 } };
    const one = async (broadcast: "none" | "later") => {
      const { plan, fields } = await worked({
        field: { broadcast },
        plan: { split: split({ method: "optimum", optimum, capLbPerAc: 40 }), pricesUsdPerTon: prices },
      });
      const line = splitLines(plan, fields[0]!.split).find(({ label }) =>
        label.startsWith("One more pound"),
      )!;
      return { worth: fields[0]!.split.optimum!.worth, text: line.text };
    };
    const short = await one("none");
    expect(short.worth.dollarsPerLb).toBeNull();
    expect(short.text).toMatch(
      /^brings need that is short, and that has no price; the limit is the mean rate\./,
    );
    expect(short.text).not.toContain("$");
    // With the spreader behind it a pound is worth what was typed for its oxide: 0.52 x $0.30, or 0.6 x $0.10.
    const spread = await one("later");
    expect(spread.worth.dollarsPerLb).toBeGreaterThan(0.05);
    expect(spread.worth.dollarsPerLb).toBeLessThan(0.17);
  });

  test("with no price of placement the optimum lays the pounds of the closed forms", async () => {
    // Ties are settled by priority: phosphate before potash, as the ceiling does with 11-52-0 first (mean alone counts).
    const optimum = await resultOf("optimum under the cap");
    const priority = await worked({
      plan: {
        split: split({
          method: "priority",
          order: [
            "below-critical-P2O5",
            "below-critical-K2O",
            "maintenance-P2O5",
            "build-up-P2O5",
            "maintenance-K2O",
            "build-up-K2O",
          ],
        }),
      },
    });
    const both = (result: RunResult) => splitMean(result, 0) + splitMean(result, 1);
    expect(both(optimum)).toBeCloseTo(both(priority), 4);
  });

  test("so many acres a day: the cap is the rate at which the lines allow them", async () => {
    const plan = {
      rig: rig(bins({ product: "11-52-0", volumeFt3: 105 }, { product: "0-0-60", volumeFt3: 105 }), { work }),
      tender: { count: 1, lb: 12_000, tripMin: 240 },
      split: split({ acresPerDay: 200 }),
    };
    const result = await worked({ plan });
    const cap = result.fields[0]!.split.capLbPerAc!;
    expect(cap).toBeGreaterThan(0);
    expect(stripMean(result)).toBeLessThanOrEqual(cap + 2.5);
    // What goes through the bins counts: pounds on overlap and of a meter that lays more than it is set to.
    const more = await worked({ plan: { ...plan, order: { overlapShare: 0.1 } } });
    expect(more.fields[0]!.split.capLbPerAc! * 1.1).toBeCloseTo(cap * 1.033, 6);
    const less = await worked({ plan: { ...plan, split: split({ acresPerDay: 230 }) } });
    expect(less.fields[0]!.split.capLbPerAc!).toBeLessThan(cap);
    const never = await worked({ plan: { ...plan, split: split({ acresPerDay: 2_000 }) } });
    expect(never.fields[0]!.split.capLbPerAc).toBe(0);
    expect(never.fields[0]!.notices.map((notice) => notice.code)).toContain("acres-a-day-out-of-reach");
  });
});

describe("what a method is told", () => {
  const sized = (...products: readonly string[]) =>
    bins(...products.map((product) => ({ product, volumeFt3: 105 })));
  const oneTender = { count: 1, lb: 12_000, tripMin: 240 };

  test("a flat rate counts under the optimum's cap", async () => {
    const own = rig([...usual, { id: "S", product: "21-0-0-24S", flatLbPerAc: 40 }]);
    const result = await worked({
      plan: { rig: own, split: split({ method: "optimum" }), pricesUsdPerTon: prices },
    });
    expect(splitMean(result, 2)).toBeCloseTo(40, 6);
    expect(splitMean(result, 0) + splitMean(result, 1) + splitMean(result, 2)).toBeCloseTo(120, 4);
  });

  test("a cap by acres a day is a mean, whatever the typed cap would limit", async () => {
    const plan = { rig: rig(sized("11-52-0", "0-0-60"), { work }), tender: oneTender };
    const by = (capBasis: Plan["split"]["capBasis"]) =>
      worked({ plan: { ...plan, split: split({ acresPerDay: 200, capBasis }) } });
    const [mean, most] = [await by("field-mean"), await by("most-in-a-cell")];
    expect(most.totals).toEqual(mean.totals);
    expect(most.fields[0]!.balances).toEqual(mean.fields[0]!.balances);
  });

  test.each(["share", "optimum"] as const)(
    "%s holds a cap on every place as the mean, and says so",
    async (method) => {
      const by = (capBasis: Plan["split"]["capBasis"]) =>
        worked({ plan: { split: split({ method, capBasis }), pricesUsdPerTon: prices } });
      const [mean, most] = [await by("field-mean"), await by("most-in-a-cell")];
      expect(most.totals).toEqual(mean.totals);
      // A mean of 120: rates held down to 120 on every segment would lie below it.
      expect(Math.abs(stripMean(most) - 120)).toBeLessThan(2.5);
      expect(highest(most)).toBeGreaterThan(130);
      const said = (result: RunResult) =>
        result.fields[0]!.notices.filter(({ code }) => code === "cap-taken-as-mean").length;
      expect([said(mean), said(most)]).toEqual([0, 1]);
      const lines = splitLines(most.plan, most.fields[0]!.split).map(({ text }) => text);
      expect(lines.join()).toContain("at most 120 lb/ac, the field's mean");
      const back = await worked({
        plan: { split: split({ method: "ceiling", capBasis: "most-in-a-cell" }) },
      });
      expect(highest(back)).toBeLessThanOrEqual(120);
      expect(said(back)).toBe(0);
    },
  );

  test("least cost that need not keep the cap says nothing of it", async () => {
    const own = split({ method: "optimum", capBasis: "most-in-a-cell", optimum: { capHolds: false } });
    const result = await worked({ plan: { split: own, pricesUsdPerTon: prices } });
    expect(result.fields[0]!.notices.map(({ code }) => code)).not.toContain("cap-taken-as-mean");
  });

  test("a cap by acres a day takes a blend's density by its shares", async () => {
    const plan = (lbPerFt3?: number): Partial<Plan> => ({
      rig: rig(bins({ product: "mix", volumeFt3: 105, ...(lbPerFt3 === undefined ? {} : { lbPerFt3 }) }), {
        work,
      }),
      blends: [blend({ of: ["11-52-0", "46-0-0"], fit: "typed", shares: [0.9, 0.1] })],
      spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5, products: ["11-52-0", "0-0-60"] },
      tender: oneTender,
      split: split({ acresPerDay: 200 }),
    });
    const assumed = await worked({ plan: plan() });
    const [field] = assumed.fields;
    const density = (laid?: FieldProducts) => rigFigures(assumed.plan, laid).bins[0]!.lbPerFt3;
    expect(density(field!.laid)).toBeGreaterThan(density() + 1);
    const typed = await worked({ plan: plan(density(field!.laid)) });
    expect(field!.split.capLbPerAc).toBeCloseTo(typed.fields[0]!.split.capLbPerAc!, 9);
  });

  test("priorities of a product of both are a common ceiling, and it is said", async () => {
    const result = await worked({
      plan: { rig: rig(bins("mix")), blends: [blend({})], split: split({ method: "priority" }) },
    });
    expect(result.fields[0]!.split.method).toBe("ceiling");
    expect(result.fields[0]!.notices.map((notice) => notice.code)).toContain("priority-as-ceiling");
  });
});

/** Most of all strip products together on any segment, lb/ac. */
function highest({ fields }: RunResult): number {
  const maps = fields[0]!.prescriptions.filter((map) => map.pass === "strip");
  const rates = maps[0]!.rateLbPerAc.map((_, k) => sum(maps.map((map) => map.rateLbPerAc[k]!)));
  return Math.max(...rates);
}
