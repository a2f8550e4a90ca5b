// A blend with several ratios is several products: what the tickets must read, and what a bin still holds, go by the field's own.
import { beforeAll, expect, test } from "vitest";
import { lostWords } from "../../src/cli/words/remainder-words.ts";
import type { InputError } from "../../src/errors/index.ts";
import {
  appliedField,
  fillPlan,
  orderOfPlan,
  type Plan,
  type RunResult,
  remainderMaps,
  run,
  typedPrices,
} from "../../src/plan/index.ts";
import { productById } from "../../src/products/index.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

/** What a reader sees of a sheet. */
const sheetText = (html: string): string => html.replaceAll(/<[^>]*>/g, " ").replaceAll(/\s+/g, " ");

let result: RunResult;
let fills: string;
beforeAll(async () => {
  const document = seasonPlanDocument();
  const [bin] = document.rig.bins;
  const flat = (P2O5: number, K2O: number) => ({ kind: "flat" as const, lbPerAc: { P2O5, K2O } });
  const [field] = document.fields;
  const { order: _, season: __, ...rest } = document;
  const plan: Plan = {
    ...rest,
    rig: { ...document.rig, bins: [{ ...bin!, product: "mix" }] },
    blends: [{ id: "mix", of: ["18-46-0", "0-0-60"], fit: "cover-both", ratios: 2 }],
    pricesUsdPerTon: { "18-46-0": 700, "0-0-60": 480 },
    fields: [
      { ...field!, id: "lean", name: "Lean", needFrom: flat(60, 60) },
      { ...field!, id: "rich", name: "Rich", needFrom: flat(30, 90) },
    ],
  };
  result = await run(plan, sourceOf(smallFarmFiles()));
  fills = sheetText(sheetFiles(result).get("fills.html")!);
});

test("the catch-test sheet has a ticket for each ratio, in the analysis of its maps", () => {
  const products = result.fields.map(
    ({ prescriptions }) => prescriptions.find((map) => map.pass === "strip")!,
  );
  expect(products.map(({ product }) => product).toSorted()).toEqual(["mix1", "mix2"]);
  expect(fills).not.toContain("N 0, P₂O₅ 0, K₂O 0");
  for (const { product, analysis } of products) {
    const ticket = new RegExp(`Left, ${product} N ([\\d.]+), P₂O₅ ([\\d.]+), K₂O ([\\d.]+)`).exec(fills);
    expect(Number(ticket?.[2])).toBeCloseTo(analysis.p2o5, 0);
    expect(Number(ticket?.[3])).toBeCloseTo(analysis.k2o, 0);
  }
  // Each ratio has its catch test too.
  for (const { product } of products) expect(fills).toContain(`Left, ${product}: caught in 1 min, lb`);
  // 60 lb P2O5 and 60 lb K2O an acre want 130.4 lb 18-46-0 and 100 lb 0-0-60: 26 % of either.
  const lean = result.fields[0]!.prescriptions.find((map) => map.pass === "strip")!.analysis;
  expect([lean.p2o5, lean.k2o].map((percent) => percent.toFixed(1))).toEqual(["26.0", "26.0"]);
});

test("fills name the field's own ratio, and only what is of the same product counts as held", () => {
  const [lean, rich] = result.fields.map((field) => fillPlan(result.plan, field).bins[0]!.product);
  expect([lean, rich].toSorted()).toEqual(["mix1", "mix2"]);
  expect(fills).toContain("What the bins hold of the same product from the field before counts");
});

test("logs and pounds are read as the field's own ratio, by its name or the blend's, and no other", () => {
  const field = result.fields[0]!;
  const own = field.prescriptions.find((map) => map.pass === "strip")!;
  const other = own.product === "mix1" ? "mix2" : "mix1";
  const { log } = drivenLog(result, 0, { upTo: 12 });
  for (const product of ["mix", own.product]) {
    const [one] = appliedField(result.plan, field, [{ product, log }]).products;
    expect(one).toMatchObject({ product: own.product, plannedLb: own.totalLb });
    expect(one!.placedLb).toBeGreaterThan(0.1 * own.totalLb);
    const left = remainderMaps(result.plan, field, { by: "log", logs: [{ product, log }] }).prescriptions[0]!;
    expect([left.product, left.totalLb < 0.9 * own.totalLb]).toEqual([own.product, true]);
    const pounds = [{ product, lb: 1_000, from: "typed" as const }];
    expect(appliedField(result.plan, field, [], pounds).byPounds).toMatchObject([
      { product: own.product, lb: 1_000 },
    ]);
  }
  const of = (...products: string[]) =>
    appliedField(
      result.plan,
      field,
      products.map((product) => ({ product, log })),
    );
  expect(() => of(other)).toThrow(`Lean gets ${own.product} in the strip, not ${other}`);
  try {
    of(other);
  } catch (error) {
    // The ratio may have been another when it was laid: by today's it would be wrong oxides.
    expect((error as InputError).remedy).toContain("give the build from before the change as PLAN");
  }
  expect(() => of("46-0-0")).toThrow("the plan's rig has no bin with 46-0-0");
  expect(() => of("mix", own.product)).toThrow("are one product");
  // Its pounds under another name than its log would be nobody's.
  const beside = [{ product: own.product, lb: 5_000, from: "typed" as const }];
  expect(() => appliedField(result.plan, field, [{ product: "mix", log }], beside)).toThrow(
    "are one product",
  );
});

test("the price of the blend is that of each ratio that has none of its own", () => {
  const { order: _, ...plan } = { ...result.plan, pricesUsdPerTon: { mix: 600, mix2: 650 } };
  expect(typedPrices(plan)).toEqual({ mix: 600, mix1: 600, mix2: 650 });
  const { products } = orderOfPlan(plan, result.fields);
  const costs = products.filter(({ line }) => line.product.startsWith("mix")).map(({ line }) => line);
  expect(costs.map(({ product }) => product).toSorted()).toEqual(["mix1", "mix2"]);
  for (const { product, cost, toOrderTons } of costs)
    expect(cost).toBeCloseTo((product === "mix1" ? 600 : 650) * toOrderTons, 6);
});

test("another product in place of the blend: the oxide that it does not bring is told", () => {
  // Rich: three times as much K2O as P2O5, so that it is laid for its K2O.
  const field = result.fields[1]!;
  const { product } = field.prescriptions.find((map) => map.pass === "strip")!;
  const done = { by: "pass", doneAfter: 4 } as const;
  const [planned] = remainderMaps(result.plan, field, done).prescriptions;
  const laid = { product: "0-0-60", analysis: productById("0-0-60").grade };
  const { instead } = remainderMaps(result.plan, field, done, { instead: { [product]: laid } });
  expect(instead[0]!.oxideLost).toEqual({
    oxide: "P2O5",
    lb: expect.closeTo((planned!.totalLb * planned!.analysis.p2o5) / 100, 6),
  });
  expect(lostWords(instead)).toEqual([
    expect.stringMatching(/^mix\d also brings P2O5: what is left gets [\d,]+ lb/),
  ]);
});

test("tons of the blend under its one name lead to the names of its ratios", () => {
  const order = {
    terms: [{ product: "mix", supplier: "elevator", onHandLb: 1_000 }],
    book: [{ date: "2027-02-14", kind: "booked" as const, product: "mix", supplier: "elevator", tons: 5 }],
  };
  const { notices } = orderOfPlan({ ...result.plan, order }, result.fields);
  const told = notices.find(({ code }) => code === "bought-without-use")!.message;
  expect(told).toContain("its ratios are products of their own: name mix1 or mix2");
});

test("pounds of a fitted blend that are there already are told to count by today's mixture", () => {
  const order = {
    terms: [{ product: "mix1", supplier: "elevator", onHandLb: 1_000 }],
    book: [
      { date: "2027-03-20", kind: "delivered" as const, product: "mix2", supplier: "elevator", tons: 0.5 },
    ],
  };
  const told = (plan: Plan): string[] =>
    orderOfPlan(plan, result.fields)
      .notices.filter(({ code }) => code === "blend-mixed-before")
      .map(({ message }) => message.slice(0, 16));
  expect(told({ ...result.plan, order })).toEqual(["mix1: 1,000 lb o", "mix2: 1,000 lb o"]);
  expect(told(result.plan)).toEqual([]);
  const typed = [{ id: "mix1", of: ["18-46-0", "0-0-60"], fit: "typed" as const, shares: [0.5, 0.5] }];
  expect(told({ ...result.plan, blends: typed, order })).toEqual([]);
});
