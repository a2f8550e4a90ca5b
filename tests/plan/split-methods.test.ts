import { describe, expect, test } from "vitest";
import { guideIds } from "../../src/agronomy/index.ts";
import { sum } from "../../src/numeric/index.ts";
import type { FieldProducts, Plan, PlanBin, PlanBlend, PlanField, RunResult } from "../../src/plan/index.ts";
import { oxideIn, readPlan, rigFigures, run, writePlan } from "../../src/plan/index.ts";
import { blendRatio, productById } from "../../src/products/index.ts";
import { needPlan, thrown, worked } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";

// The balance of a run in its two tolerances: what the files place, what is short and what is too much make up the need to
// 1e-9 of it before the spreader's steps (run itself throws otherwise), and to half a step a piece after them.
const bins = (...products: readonly (string | Partial<PlanBin>)[]): PlanBin[] =>
  products.map((one, i): PlanBin => {
    const id = "LRABCD"[i]!;
    return typeof one === "string" ? { id, product: one } : ({ id, ...one } as PlanBin);
  });
const usual = bins("11-52-0", "0-0-60");

const rig = (own: readonly PlanBin[] = usual, more: object = {}): Plan["rig"] => ({
  rows: 16,
  rowSpacingIn: 30,
  segmentM: 30,
  rateStepLbPerAc: 5,
  bins: own,
  ...more,
});
const split = (more: Partial<Plan["split"]> = {}): Plan["split"] => ({
  capLbPerAc: 120,
  capBasis: "field-mean",
  within: "first-11-52-0",
  ...more,
});
const blend = (more: Partial<PlanBlend>): PlanBlend => ({
  id: "mix",
  of: ["11-52-0", "0-0-60"],
  fit: "cover-both",
  ...more,
});
const work = { mph: 7, turnEfficiency: 0.8, hoursPerDay: 11, minutesPerStop: 6, fillLbPerMin: 1300 };
const prices = { "11-52-0": 780, "0-0-60": 480, "18-46-0": 700 };

interface Case {
  readonly name: string;
  readonly plan: Partial<Plan>;
  readonly field?: Partial<PlanField>;
}

const cases: readonly Case[] = [
  { name: "ceiling", plan: { split: split() } },
  { name: "ceiling, alike", plan: { split: split({ within: "alike" }) } },
  { name: "ceiling with a starter", plan: { split: split({ starterLbPerAc: { P2O5: 20, K2O: 20 } }) } },
  { name: "most in a cell", plan: { split: split({ capBasis: "most-in-a-cell" }) } },
  { name: "share", plan: { split: split({ method: "share", starterLbPerAc: { P2O5: 15 } }) } },
  {
    name: "priority over the field",
    plan: { split: split({ method: "priority", starterLbPerAc: { P2O5: 15 } }) },
  },
  { name: "priority in each cell", plan: { split: split({ method: "priority", across: "cell" }) } },
  { name: "optimum under the cap", plan: { split: split({ method: "optimum" }), pricesUsdPerTon: prices } },
  {
    name: "optimum by hours and passes",
    plan: {
      split: split({
        method: "optimum",
        optimum: { capHolds: false, usdPerRigHour: 600, usdPerAcPass: 7.5 },
      }),
      pricesUsdPerTon: prices,
      rig: rig(bins({ product: "11-52-0", volumeFt3: 105 }, { product: "0-0-60", volumeFt3: 105 }), { work }),
      tender: { count: 1, lb: 24_000 },
    },
  },
  { name: "no broadcast", plan: { split: split({ method: "priority" }) }, field: { broadcast: "none" } },
  { name: "DAP and sulfate of potash", plan: { rig: rig(bins("18-46-0", "0-0-50-17S")), split: split() } },
  { name: "one bin alone", plan: { rig: rig(bins("0-46-0")), split: split() } },
  {
    name: "one bin alone and a spreader with both",
    plan: {
      rig: rig(bins("11-52-0")),
      spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5, products: ["0-46-0", "0-0-60"] },
      split: split(),
    },
  },
  {
    name: "a flat rate of sulfate beside both",
    plan: { rig: rig([...usual, { id: "S", product: "21-0-0-24S", flatLbPerAc: 40 }]), split: split() },
  },
  {
    name: "a product of both nutrients",
    plan: {
      products: [{ id: "10-26-26", name: "own", grade: { N: 10, P2O5: 26, K2O: 26 } }],
      rig: rig(bins("10-26-26")),
      spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5, products: ["11-52-0", "0-0-60"] },
      split: split(),
    },
  },
  {
    name: "a product of both nutrients beside one of potash",
    plan: {
      products: [{ id: "10-26-26", name: "own", grade: { N: 10, P2O5: 26, K2O: 26 } }],
      rig: rig(bins("10-26-26", "0-0-60")),
      split: split(),
    },
  },
  { name: "bands counted for more", plan: { split: split({ bandFactorP2O5: 0.6 }) } },
  { name: "near the seed", plan: { split: split(), seed: { distanceIn: 2.5, texture: "other" } } },
  { name: "with the seed, soybean", plan: { split: split(), seed: { distanceIn: 1 } } },
  {
    name: "meters",
    plan: {
      split: split({ capLbPerAc: 400 }),
      rig: rig(
        bins(
          { product: "11-52-0", meterMaxLbPerMin: 60 },
          { product: "0-0-60", meterMinLbPerMin: 30, meterMaxLbPerMin: 80 },
        ),
        { work },
      ),
    },
  },
  ...(["cover-both", "least-misfit"] as const).flatMap((fit) =>
    (["cover-both", "least-misfit", "no-excess"] as const).map((rate) => ({
      name: `a blend found by ${fit}, rated by ${rate}`,
      plan: {
        rig: rig(bins("mix")),
        blends: [blend({ fit, rate })],
        split: split(),
        pricesUsdPerTon: prices,
      },
    })),
  ),
  {
    name: "a blend under the optimum",
    plan: {
      rig: rig(bins("mix")),
      blends: [blend({})],
      split: split({ method: "optimum" }),
      pricesUsdPerTon: prices,
    },
  },
  {
    name: "a blend of typed shares",
    plan: {
      rig: rig(bins("mix")),
      blends: [
        blend({
          of: ["11-52-0", "0-0-60", "21-0-0-24S"],
          fit: "typed",
          shares: [0.4, 0.4, 0.2],
          batchLb: 6_000,
        }),
      ],
      split: split(),
    },
  },
  {
    name: "a spreader with a least rate",
    plan: {
      split: split(),
      spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5, leastLbPerAc: 60 },
    },
  },
];

/** Each case is worked once. */
const results = new Map<string, Promise<RunResult>>();
const resultOf = (name: string): Promise<RunResult> => {
  const one = cases.find((entry) => entry.name === name)!;
  const found = results.get(name) ?? worked({ plan: one.plan, ...(one.field ? { field: one.field } : {}) });
  results.set(name, found);
  return found;
};

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

const stripMean = ({ fields }: RunResult): number =>
  sum(fields[0]!.prescriptions.filter((map) => map.pass === "strip").map((map) => map.meanLbPerAc));
const splitMean = ({ fields }: RunResult, product: number): number => {
  const { cells, split: own } = fields[0]!;
  const area = sum(cells.areaM2);
  return sum(cells.areaM2.map((m2, i) => (m2 > 0 ? (m2 * own.products[product]!.strip[i]!) / area : 0)));
};

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

describe("limits", () => {
  test("a limit near the seed cuts N + K2O + S of the strip, potash first; soybean with the seed gets none", async () => {
    const { split: own, cells } = (await resultOf("near the seed")).fields[0]!;
    const [map, mop] = own.products;
    cells.areaM2.forEach((areaM2, i) => {
      if (areaM2 > 0) expect(map!.strip[i]! * 0.11 + mop!.strip[i]! * 0.6).toBeLessThanOrEqual(60 + 1e-6);
    });
    const none = (await resultOf("with the seed, soybean")).fields[0]!;
    for (const map of none.prescriptions.filter((one) => one.pass === "strip")) expect(map.totalLb).toBe(0);
    expect(none.notices.map((notice) => notice.code)).toContain("salt-cuts-strip");
  });

  test("meters: no segment above what they lay or below their least", async () => {
    const maps = (await resultOf("meters")).fields[0]!.prescriptions.filter((map) => map.pass === "strip");
    const perLbMin = 495 / (40 * 7);
    expect(maps[0]!.maxLbPerAc).toBeLessThanOrEqual(60 * perLbMin);
    expect(maps[1]!.maxLbPerAc).toBeLessThanOrEqual(80 * perLbMin);
    const least = [...maps[1]!.rateLbPerAc].filter((rate) => rate > 0);
    expect(Math.min(...least)).toBeGreaterThanOrEqual(30 * perLbMin - 1e-9);
  });

  test("a band that counts for more leaves named pounds out, P only and below critical only", async () => {
    const field = (await resultOf("bands counted for more")).fields[0]!;
    const plain = (await resultOf("ceiling")).fields[0]!;
    expect(field.balanceReasons.P2O5.bandedLb).toBeGreaterThan(10);
    expect(field.balanceReasons.K2O.bandedLb).toBe(0);
    const placed = (of: typeof field) => of.balances[0]!.stripLb + of.balances[0]!.broadcastLb;
    expect(placed(field)).toBeLessThan(placed(plain) - 10);
    // The balance sheet shows what it does to the soil.
    const sheetP = (of: typeof field) => of.sheet.nutrients[0]!.placedLb;
    expect(sheetP(field)).toBeLessThan(sheetP(plain));
  });

  test("factors by guide id: the field's own counts as the bare number did, another's changes nothing", async () => {
    const alone = (await resultOf("bands counted for more")).fields[0]!;
    const plain = (await resultOf("ceiling")).fields[0]!;
    const own = alone.need.P2O5.rule!.guide.id;
    const other = guideIds().find((id) => id !== own)!;
    const by = async (bandFactorP2O5: Readonly<Record<string, number>>) => {
      const { plan } = needPlan({ plan: { split: split({ bandFactorP2O5 }) } });
      expect(readPlan(writePlan(plan), "plan.json").split.bandFactorP2O5).toEqual(bandFactorP2O5);
      return worked({ plan: { split: plan.split } });
    };
    const both = (await by({ [own]: 0.6, [other]: 0.9 })).fields[0]!;
    expect(both.split.p2o5Counts).toEqual(alone.split.p2o5Counts);
    expect(both.balances).toEqual(alone.balances);
    const others = (await by({ [other]: 0.9 })).fields[0]!;
    expect(others.split.p2o5Counts).toBeNull();
    expect(others.balances).toEqual(plain.balances);
    const refused = await by({ "no-such-guide": 0.6 }).then(
      (result) => result.refused.map(({ code, message }) => `${code}: ${message}`),
      (error: Error) => [`${(error as Error & { code?: string }).code}: ${error.message}`],
    );
    expect(refused.join()).toContain(
      'unknown-guide: split.bandFactorP2O5: there is no guide "no-such-guide"',
    );
    for (const factor of [0.4, 1.1]) {
      const { plan } = needPlan({ plan: { split: split({ bandFactorP2O5: { [own]: factor } }) } });
      expect(() => readPlan(writePlan(plan), "plan.json")).toThrow();
    }
  });
});

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

describe("care", () => {
  test("distance unanswered: the limit with the seed, said once for the plan", async () => {
    const result = await resultOf("ceiling");
    const { salt } = result.fields[0]!.care;
    expect([salt.told, salt.place, salt.blocked]).toEqual([false, "in the furrow", true]);
    expect(salt.questions.map((question) => question.key)).toContain("seed-distance-in");
    expect(result.notices.filter((notice) => notice.code === "seed-not-told")).toHaveLength(1);
  });

  test("beyond 3 in.: no block, a flag until somebody's name stands in the plan, and lb per 1,000 ft", async () => {
    const seed = { distanceIn: 5, bandDepthIn: 6, texture: "other" as const };
    const plan = { split: split({ capLbPerAc: 400 }), seed };
    const flagged = (await worked({ plan })).fields[0]!;
    expect(flagged.care.salt).toMatchObject({ place: "beyond", blocked: false, needsName: true });
    expect(flagged.notices.map((notice) => notice.code)).toContain("salt-over-2x2-beyond");
    // lb per 1,000 ft = lb/ac x row spacing in inches / 522.72 (43,560 ft2 an acre).
    expect(flagged.care.salt.highestLbPer1000Ft).toBeCloseTo(
      (flagged.care.salt.highestLbPerAc * 30) / 522.72,
      6,
    );
    const named = { ...seed, acknowledged: { by: "J. Doe", date: "2027-03-01" } };
    const taken = (await worked({ plan: { ...plan, seed: named } })).fields[0]!;
    expect(taken.care.salt.needsName).toBe(false);
    expect(taken.care.salt.flags[0]!.message).toMatch(/J\. Doe took note/);
  });

  test("a starter that shares the place counts in the sum", async () => {
    const seed = { distanceIn: 2.5, texture: "other" as const, cutToLimit: false };
    const without = (await worked({ plan: { split: split(), seed } })).fields[0]!.care.salt;
    const starter = { ...seed, starterLbPerAc: { N: 5, K2O: 5 } };
    const counted = (await worked({ plan: { split: split(), seed: starter } })).fields[0]!.care.salt;
    expect(counted.highestLbPerAc - without.highestLbPerAc).toBeCloseTo(10, 9);
    const apart = { ...starter, starterSharesPlace: false };
    const elsewhere = (await worked({ plan: { split: split(), seed: apart } })).fields[0]!.care.salt;
    expect(elsewhere.highestLbPerAc).toBeCloseTo(without.highestLbPerAc, 9);
  });

  test("zinc coated on a bin: low, high, acres missed, and counted among what comes along", async () => {
    const own = bins(
      { product: "11-52-0", coated: [{ element: "Zn", lbPerTon: 20, wantedLbPerAc: 1 }] },
      "0-0-60",
    );
    const field = (await worked({ plan: { rig: rig(own), split: split() } })).fields[0]!;
    const [zinc] = field.care.riding;
    const map = field.prescriptions.find((one) => one.pass === "strip" && one.bin === "L")!;
    expect(zinc!.totalLb).toBeCloseTo((map.totalLb * 20) / 2_000, 6);
    expect(zinc!.highLbPerAc).toBeCloseTo((map.maxLbPerAc * 20) / 2_000, 9);
    expect(zinc!.acresBelowWanted).toBeGreaterThanOrEqual(zinc!.acresMissed);
    expect(field.alsoWanted.find((one) => one.nutrient === "Zn")!.alongLb).toBeCloseTo(zinc!.totalLb, 6);
  });

  test("broadcast in the crop carries its warning", async () => {
    const result = await worked({ plan: { split: split({ broadcastWhen: "in-crop" }) } });
    expect(result.notices.find((notice) => notice.code === "broadcast-in-crop")!.message).toMatch(/burns/);
  });
});
