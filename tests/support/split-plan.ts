import { sum } from "../../src/numeric/index.ts";
import type { Plan, PlanBin, PlanBlend, PlanField, RunResult } from "../../src/plan/index.ts";
import { worked } from "./need-plan.ts";

export const bins = (...products: readonly (string | Partial<PlanBin>)[]): PlanBin[] =>
  products.map((one, i): PlanBin => {
    const id = "LRABCD"[i]!;
    return typeof one === "string" ? { id, product: one } : ({ id, ...one } as PlanBin);
  });
export const usual: PlanBin[] = bins("11-52-0", "0-0-60");

export const rig = (own: readonly PlanBin[] = usual, more: object = {}): Plan["rig"] => ({
  rows: 16,
  rowSpacingIn: 30,
  segmentM: 30,
  rateStepLbPerAc: 5,
  bins: own,
  ...more,
});
export const split = (more: Partial<Plan["split"]> = {}): Plan["split"] => ({
  capLbPerAc: 120,
  capBasis: "field-mean",
  within: "first-11-52-0",
  ...more,
});
export const blend = (more: Partial<PlanBlend>): PlanBlend => ({
  id: "mix",
  of: ["11-52-0", "0-0-60"],
  fit: "cover-both",
  ...more,
});
export const work = { mph: 7, turnEfficiency: 0.8, hoursPerDay: 11, minutesPerStop: 6, fillLbPerMin: 1300 };
export const prices = { "11-52-0": 780, "0-0-60": 480, "18-46-0": 700 };

interface Case {
  readonly name: string;
  readonly plan: Partial<Plan>;
  readonly field?: Partial<PlanField>;
}

/** Every way to split and every product list that the plan knows, by name. */
export const cases: readonly Case[] = [
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
      split: split({ capLbPerAc: 60 }),
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
export const resultOf = (name: string): Promise<RunResult> => {
  const one = cases.find((entry) => entry.name === name)!;
  const found = results.get(name) ?? worked({ plan: one.plan, ...(one.field ? { field: one.field } : {}) });
  results.set(name, found);
  return found;
};

/** Mean of all strip maps of the first field, lb/ac. */
export const stripMean = ({ fields }: RunResult): number =>
  sum(fields[0]!.prescriptions.filter((map) => map.pass === "strip").map((map) => map.meanLbPerAc));
/** Mean over the cells of one product of its strip, before rates are averaged and stepped, lb/ac. */
export const splitMean = ({ fields }: RunResult, product: number): number => {
  const { cells, split: own } = fields[0]!;
  const area = sum(cells.areaM2);
  return sum(cells.areaM2.map((m2, i) => (m2 > 0 ? (m2 * own.products[product]!.strip[i]!) / area : 0)));
};
