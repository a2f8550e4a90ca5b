import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { type LedgerEvent, ledgerAddition } from "../../src/ledger/index.ts";
import { explainCell, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import {
  codes,
  east,
  inside,
  needPlan,
  pounds,
  rectangles,
  thrown,
  west,
  worked,
} from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";
import { bins, blend, cases, resultOf, rig, split } from "../support/split-plan.ts";

const prices: Readonly<Record<string, number>> = {
  "11-52-0": 800,
  "0-0-60": 450,
  "0-46-0": 690,
  "21-0-0-24S": 430,
};

/** The small farm with one typed rate: 52 lb P2O5 and 60 lb K2O an acre, 100 lb of 11-52-0 and of 0-0-60. */
const typed = { needFrom: { kind: "flat", lbPerAc: { P2O5: 52, K2O: 60 } } } as const;

function ledgerOf(events: readonly LedgerEvent[]): Uint8Array {
  let bytes = new Uint8Array();
  for (const event of events)
    bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-18", event)]);
  return bytes;
}

async function flatFarm(more: Partial<Plan>, events: readonly LedgerEvent[] = []): Promise<RunResult> {
  const { plan, files } = needPlan({ field: typed, plan: more });
  if (events.length > 0) files.set("ledger.txt", ledgerOf(events));
  return run(plan, sourceOf(files), { files: "later" });
}

/** Three bins, sulfur flat at 60 lb/ac, another phosphate in the spreader, 110 lb/ac in the strip. */
const threeBins: Partial<Plan> = {
  rig: rig(bins("11-52-0", "0-0-60", { product: "21-0-0-24S", flatLbPerAc: 60 })),
  split: split({ capLbPerAc: 110 }),
  pricesUsdPerTon: prices,
};
const withSpreader = (plan: Plan): Partial<Plan> => ({
  ...threeBins,
  spreader: { ...plan.spreader, products: ["0-46-0", "0-0-60"] },
});

const placedIn = (result: RunResult, of: (product: string) => number): number =>
  result.fields
    .flatMap(({ prescriptions }) => prescriptions)
    .reduce((total, map) => total + map.totalLb * of(map.product), 0);
const said = (result: RunResult, code: string): string =>
  result.notices.find((one) => one.code === code)?.message ?? "";

describe("the words of a budget", () => {
  /** West 90 lb K2O an acre and east 30, an adviser's; with a second field of the same ground under a guide where asked. */
  const advised = async (hasGuided: boolean): Promise<RunResult> => {
    const needFrom = {
      kind: "rates",
      source: "rates.geojson",
      rates: { K2O: { column: "K", of: "oxide", unit: "lb/ac" } },
    } as const;
    const file = rectangles([
      [...west, { K: 90 }],
      [...east, { K: 30 }],
    ]);
    const { plan, files } = needPlan({ files: { "rates.geojson": file }, as: { "rates.geojson": "rates" } });
    const [guided] = plan.fields;
    const own = { ...guided!, id: "advised", name: "Advised", needFrom };
    const fields = hasGuided ? [guided!, own] : [own];
    return run({ ...plan, fields, budget: { lb: 1_000 } }, sourceOf(files), { files: "later" });
  };

  it("an adviser's rates, high and low, are cut alike, and that is said: no word of tests", async () => {
    const result = await advised(false);
    const [field] = result.fields;
    const shares = inside(field!).map(
      (cell) => field!.wanted.k2oLbPerAc[cell]! / field!.need.k2oLbPerAc[cell]!,
    );
    // 1,000 lb of potash are 600 lb K2O.
    const share = 600 / pounds(field!, (cell) => field!.need.k2oLbPerAc[cell]!);
    for (const one of shares) expect(one).toBeCloseTo(share, 9);
    const words = said(result, "budget-spent");
    expect(words).toContain("wanted: all rates are cut alike, high and low: they are an adviser's or typed");
    expect(words).not.toContain("lowest tests");
    const high = inside(field!).find((cell) => field!.need.k2oLbPerAc[cell] === 90)!;
    expect(explainCell(result.plan, field!, "K2O", high)!.steps).toContain(
      "The budget cuts rates that no guide gave alike, after all others.",
    );
  });

  it("beside a field under a guide they come last, and that is said", async () => {
    const words = said(await advised(true), "budget-spent");
    expect(words).toContain("lowest tests first; ");
    expect(words).toContain("; an adviser's or typed rates come last and are cut alike. What the order adds");
  });
});

describe("what a budget counts", () => {
  it("flat products and the spreader's own, in lb: by hand", async () => {
    const more = withSpreader(needPlan().plan);
    const areaAc = (await flatFarm(more)).fields[0]!.checked.areaAc;
    const budget = { lb: 200 * areaAc };
    const result = await flatFarm({ ...more, budget });
    const [field] = result.fields;
    // lb/ac: 60 of sulfur and 50 of 11-52-0 (26 P2O5) fill the strip; (52 s - 26) / 0.46 of 0-46-0 and 100 s of 0-0-60 are
    // spread. 60 + 50 + (52 s - 26) / 0.46 + 100 s = 200 gives s = 0.68776, of the 266.5 wanted without a budget.
    expect(field!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(35.763, 2);
    expect(field!.wanted.K2O.wantedLb / areaAc).toBeCloseTo(41.265, 2);
    expect(said(result, "budget-spent")).toContain(
      `the ${Math.round(areaAc * 266.5217).toLocaleString("en-US")} lb wanted`,
    );
    expect(Math.abs(placedIn(result, () => 1) / budget.lb - 1)).toBeLessThan(0.01);
  });

  it("in $, at each product's own price: by hand", async () => {
    const more = withSpreader(needPlan().plan);
    const areaAc = (await flatFarm(more)).fields[0]!.checked.areaAc;
    // $/ac: 60 x 0.215 + 50 x 0.40 + (52 s - 26) / 0.46 x 0.345 + 100 s x 0.225 = 60 gives s = 0.75772.
    const result = await flatFarm({ ...more, budget: { usd: 60 * areaAc } });
    expect(result.fields[0]!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75772, 2);
    const usd = placedIn(result, (product) => prices[product]! / 2_000);
    expect(Math.abs(usd / (60 * areaAc) - 1)).toBeLessThan(0.01);
    expect(codes(result.notices).includes("budget-passed")).toBe(usd > 1.001 * 60 * areaAc);
  });

  it("a flat rate above the budget is told with what it goes beyond, and all else gets nothing", async () => {
    const areaAc = (await flatFarm(threeBins)).fields[0]!.checked.areaAc;
    const result = await flatFarm({ ...threeBins, budget: { lb: 40 * areaAc } });
    expect(result.fields[0]!.wanted.P2O5.wantedLb).toBe(0);
    const overLb = Math.ceil(placedIn(result, () => 1) - 40 * areaAc);
    expect(Math.abs(overLb / (20 * areaAc) - 1)).toBeLessThan(0.01);
    expect(said(result, "budget-passed")).toBe(
      `flat rates and what the ledger has done come to ${overLb} lb more than the budget by themselves, and it cuts neither: lower the flat rates, or raise it`,
    );
  });

  it("every product in the bins needs a price where the budget is in $", async () => {
    const { "21-0-0-24S": _, ...without } = prices;
    const own = { ...threeBins, pricesUsdPerTon: without, budget: { usd: 900 } };
    const error = await thrown(flatFarm(own), InputError);
    expect(error.message).toBe("the budget is in $ and 21-0-0-24S has no price");
  });

  it("of a blend the parts without a price are named, and their prices do", async () => {
    const of = { rig: rig(bins("mix")), blends: [blend({})], split: split(), budget: { usd: 900 } };
    const refusal = async (pricesUsdPerTon: Readonly<Record<string, number>>) =>
      (await thrown(flatFarm({ ...of, pricesUsdPerTon }), InputError)).message;
    expect(await refusal({})).toBe("the budget is in $ and 11-52-0 and 0-0-60, parts of mix, have no price");
    const { "0-0-60": _, ...one } = prices;
    expect(await refusal(one)).toBe("the budget is in $ and 0-0-60, a part of mix, has no price");
    // The spreader lays the parts alone: with a price of the blend theirs are wanted still.
    expect(await refusal({ ...one, mix: 700 })).toBe("the budget is in $ and 0-0-60 has no price");
    expect(codes((await flatFarm({ ...of, pricesUsdPerTon: prices })).notices)).toContain("budget-spent");
  });
});

/** Ways in which a lb of oxide does not cost the same everywhere. */
const UNLIKE = [
  ...["no broadcast", "one bin alone and a spreader with both", "a flat rate of sulfate beside both"],
  ...["a product of both nutrients", "a product of both nutrients beside one of potash"],
  ...["bands counted for more", "optimum under the cap", "a blend under the optimum"],
  ...["a blend found by least-misfit, rated by cover-both", "a blend of typed shares"],
];

describe("whatever brings the need", () => {
  it.each(UNLIKE)("the maps of all products come to the budget: %s", async (name) => {
    const { plan, field } = cases.find((one) => one.name === name)!;
    const lbOf = (result: RunResult) => placedIn(result, () => 1);
    const lb = 0.6 * lbOf(await resultOf(name));
    const result = await worked({ plan: { ...plan, budget: { lb } }, ...(field ? { field } : {}) });
    // Steps of 5 lb/ac and the spreader's width do the rest.
    expect(Math.abs(lbOf(result) / lb - 1)).toBeLessThan(0.02);
    expect(codes(result.notices).includes("budget-passed")).toBe(lbOf(result) > 1.001 * lb);
  });
});

describe("a budget in mid-season", () => {
  const placed = (
    product: string,
    lb: number,
    p2o5: number,
    k2o: number,
    fieldId = "low-forty",
  ): LedgerEvent => ({
    ...({ kind: "placed", fieldId, pass: "strip", product, lb, areaAc: 20 } as const),
    ...{ map: "A", revision: "1", p2o5Lb: lb * p2o5, k2oLb: lb * k2o, from: "typed" },
  });
  const events: readonly LedgerEvent[] = [
    placed("11-52-0", 1_500, 0.52, 0),
    placed("0-0-60", 2_500, 0, 0.6),
    { kind: "finished", fieldId: "low-forty", pass: "strip" },
  ];
  const twoFields = (budget: Plan["budget"], capLbPerAc: number): Partial<Plan> => {
    const [field] = needPlan({ field: typed }).plan.fields;
    return {
      split: split({ capLbPerAc }),
      pricesUsdPerTon: prices,
      ...(budget ? { budget } : {}),
      fields: [field!, { ...field!, id: "twin", name: "Twin" }],
    };
  };
  const runTwo = async (budget: Plan["budget"], own = events, capLbPerAc = 400): Promise<RunResult> => {
    const { plan, files } = needPlan();
    if (own.length > 0) files.set("ledger.txt", ledgerOf(own));
    return run({ ...plan, ...twoFields(budget, capLbPerAc) }, sourceOf(files), { files: "later" });
  };

  it("a field laid by its maps keeps them, and so do the others", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const budget = { lb: 300 * areaAc };
    const before = await runTwo(budget, []);
    const own = before.fields[0]!.prescriptions.filter(
      ({ pass, totalLb }) => pass === "strip" && totalLb > 0,
    ).map(({ product, totalLb, analysis }) =>
      placed(product, totalLb, analysis.p2o5 / 100, analysis.k2o / 100),
    );
    for (const events of [
      own,
      [...own, { kind: "finished", fieldId: "low-forty", pass: "strip" } as const],
    ]) {
      const after = await runTwo(budget, events);
      for (const [f, { prescriptions }] of before.fields.entries())
        for (const [m, { stem, totalLb }] of prescriptions.entries())
          expect(after.fields[f]!.prescriptions[m]!.totalLb, stem).toBeCloseTo(totalLb, 6);
      expect(codes(after.notices)).not.toContain("placed-not-as-planned");
    }
    // Where all is done the budget is spent as before, and cuts what it cut.
    const last = own.map((one) => ({ ...one, fieldId: "twin" }));
    const { fields, notices } = await runTwo(budget, [...own, ...last]);
    expect(fields[1]!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75, 6);
    expect(codes(notices)).toContain("budget-spent");
    expect(codes(notices)).not.toContain("budget-passed");
  });

  /** lb/ac of a field's maps: strip, then broadcast. */
  const perAcre = ({ fields }: RunResult, f: number): readonly (readonly [string, number])[] =>
    fields[f]!.prescriptions.map(({ pass, product, totalLb }) => [
      `${pass} ${product}`,
      Math.round((10 * totalLb) / fields[f]!.checked.areaAc) / 10,
    ]);
  const stripOf = (p: number, k: number) =>
    [
      ["strip 11-52-0", p],
      ["strip 0-0-60", k],
    ] as const;
  /** Strips done, so many lb/ac of each product. */
  const stripped = (fieldId: string, areaAc: number, p: number, k: number): readonly LedgerEvent[] => [
    placed("11-52-0", p * areaAc, 0.52, 0, fieldId),
    placed("0-0-60", k * areaAc, 0, 0.6, fieldId),
    { kind: "finished", fieldId, pass: "strip" },
  ];

  it("a field driven after another took more keeps the maps that it was driven by: by hand", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const runWith = (own: readonly LedgerEvent[]) => runTwo({ lb: 300 * areaAc }, own, 110);
    // 150 lb/ac a field, 75 of each; the strip takes 110.
    const asWanted = [...stripOf(75, 35), ["broadcast 0-0-60", 40]];
    const before = await runWith([]);
    for (const f of [0, 1]) expect(perAcre(before, f)).toEqual(asWanted);
    // 95 lb/ac of 11-52-0 laid for 75: 170 of 300 are gone, 130 left, 65 of each.
    const first = stripped("low-forty", areaAc, 95, 35);
    const cut = [...stripOf(65, 45), ["broadcast 0-0-60", 20]];
    const between = await runWith(first);
    expect(perAcre(between, 0)).toEqual(asWanted);
    expect(perAcre(between, 1)).toEqual(cut);
    const last = await runWith([...first, ...stripped("twin", areaAc, 65, 45)]);
    expect(perAcre(last, 0)).toEqual(asWanted);
    expect(perAcre(last, 1)).toEqual(cut);
    expect(last.fields[1]!.wanted.K2O.wantedLb / areaAc).toBeCloseTo(60 * 0.65, 2);
    expect(codes(last.notices)).not.toContain("budget-passed");
  });

  it("what is still to be spread of fields that are done comes to what the budget leaves: by hand", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const budget = { lb: 300 * areaAc };
    // As above; then 30 lb/ac more in one field. 165 + 110 lie there, 25 of the 60 still to be spread are left: 100 s - 35 and
    // 100 s - 45 of 0-0-60 come to that with s = 0.525.
    const own = [...stripped("low-forty", areaAc, 95, 35), ...stripped("twin", areaAc, 65, 45)];
    const more: LedgerEvent = {
      ...({ kind: "placed", fieldId: "low-forty", pass: "catch-up", product: "11-52-0" } as const),
      ...{
        lb: 35 * areaAc,
        areaAc: 20,
        map: "A",
        revision: "1",
        p2o5Lb: 0.52 * 35 * areaAc,
        k2oLb: 0,
        from: "typed",
      },
    };
    const result = await runTwo(budget, [...own, more], 110);
    expect(perAcre(result, 0).slice(0, 2)).toEqual(stripOf(75, 35));
    expect(perAcre(result, 1).slice(0, 2)).toEqual(stripOf(65, 45));
    // Rates go by steps of 5 lb/ac, on average to what is left.
    const [a, b] = [0, 1].map((f) => perAcre(result, f)[2]![1]);
    expect(Math.abs(a! - 17.5)).toBeLessThan(0.5);
    expect(Math.abs(b! - 7.5)).toBeLessThan(0.5);
    const { wanted } = result.fields[0]!;
    expect(wanted.K2O.wantedLb / areaAc).toBeCloseTo(60 * 0.525, 1);
    expect(wanted.K2O.overBudgetLb / areaAc).toBeCloseTo(60 * 0.475, 1);
    // What the strips bring is wanted there still.
    expect(wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75, 2);
    // 165 + 110 lb/ac lie there, with 25 to be spread, by the maps' own pounds.
    const toCome = result.fields.map(({ prescriptions }) => prescriptions[2]!.totalLb);
    const lb = (value: number): string => `${Math.round(value).toLocaleString("en-US")} lb`;
    expect(said(result, "budget-spent")).toContain(
      `keep their rates, but for what was still to be spread there and is cut to what is left, and take ${lb(275 * areaAc + toCome[0]! + toCome[1]!)} of it, ${lb(toCome[0]! + toCome[1]!)} of that still to come`,
    );
  });

  it("strips alone above the budget: nothing is spread, and that much is told", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const { plan, files } = needPlan({ field: typed, plan: { budget: { lb: 150 * areaAc } } });
    // 75 and 35 lb/ac by the maps, with 40 of 0-0-60 to be spread.
    files.set("ledger.txt", ledgerOf(stripped("low-forty", areaAc, 130, 35)));
    const result = await run({ ...plan, split: split({ capLbPerAc: 110 }) }, sourceOf(files), {
      files: "later",
    });
    expect(perAcre(result, 0)).toEqual(stripOf(75, 35));
    expect(said(result, "budget-passed")).toBe(
      `flat rates and what the ledger has done come to ${Math.ceil(15 * areaAc)} lb more than the budget by themselves, and it cuts neither: lower the flat rates, or raise it`,
    );
  });

  it("a bin that is not entered yet counts by its map: the other field's maps stay", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const own = stripped("low-forty", areaAc, 75, 75).slice(0, 1);
    const both = [...own, ...stripped("twin", areaAc, 75, 75).slice(0, 1)];
    for (const lines of [own, both]) {
      const result = await runTwo({ lb: 300 * areaAc }, lines);
      for (const f of [0, 1]) expect(perAcre(result, f)).toEqual(stripOf(75, 75));
    }
  });

  it("counts a finished pass as it lies there, and cuts the other fields alone", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const budget = { lb: 300 * areaAc };
    const [done, twin] = (await runTwo(budget)).fields;
    // By the rates of before anything was laid.
    expect(done!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75, 6);
    // 200 lb/ac are wanted; what is left after the 4,000 lb in the ground.
    const share = (300 * areaAc - 4_000) / (200 * areaAc);
    expect(twin!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * share, 6);
    const [, plain] = (await runTwo(budget, [])).fields;
    expect(plain!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75, 6);
  });

  it("counts strips done by acres as they lie there, whatever product the plan has in the bin by now", async () => {
    const areaAc = (await runTwo(undefined, [])).fields[0]!.checked.areaAc;
    const other = [placed("18-46-0", 1_700, 0.46, 0), placed("0-0-60", 2_500, 0, 0.6)];
    const [done, twin] = (await runTwo({ lb: 300 * areaAc }, other)).fields;
    expect(done!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * 0.75, 6);
    const share = (300 * areaAc - 4_200) / (200 * areaAc);
    expect(twin!.wanted.P2O5.wantedLb / areaAc).toBeCloseTo(52 * share, 6);
  });

  it("in $ at the plan's prices; what lies there beyond the budget is told", async () => {
    // 1,500 x 0.40 + 2,500 x 0.225 = $1,162.50 lie in the ground; $1,000 is less by itself.
    const result = await runTwo({ usd: 1_000 });
    expect(result.fields[1]!.wanted.P2O5.wantedLb).toBe(0);
    expect(said(result, "budget-spent")).toContain("keep their rates and take $1,163 of it");
    expect(said(result, "budget-passed")).toContain("come to $163 more than the budget");
    const { plan, files } = needPlan({
      field: typed,
      plan: { pricesUsdPerTon: prices, budget: { usd: 1_000 } },
    });
    files.set("ledger.txt", ledgerOf(events));
    const alone = await run({ ...plan, split: split({ capLbPerAc: 400 }) }, sourceOf(files), {
      files: "later",
    });
    expect(said(alone, "budget-passed")).toContain("come to $163 more than the budget");
  });
});
