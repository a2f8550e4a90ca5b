// Terms typed for a blend with two ratios, each a product of its own in maps and order.
import { beforeAll, expect, test } from "vitest";
import { type OrderOfPlan, orderOfPlan, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { needPlan } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";
import { bins, blend, rig, split } from "../support/split-plan.ts";

let plan: Plan;
let result: RunResult;
beforeAll(async () => {
  const { plan: base, files } = needPlan({
    plan: {
      rig: rig(bins("mix")),
      blends: [blend({ ratios: 2 })],
      split: split(),
      pricesUsdPerTon: { mix: 655 },
    },
  });
  const [one] = base.fields;
  const field = (id: string, P2O5: number, K2O: number) => ({
    ...{ ...one!, id, name: id },
    needFrom: { kind: "flat" as const, lbPerAc: { P2O5, K2O } },
  });
  plan = { ...base, fields: [field("a", 40, 60), field("b", 60, 150)] };
  result = await run(plan, sourceOf(files), { files: "later" });
});

const orderWith = (order: NonNullable<Plan["order"]>): OrderOfPlan =>
  orderOfPlan({ ...plan, order }, result.fields);
const linesOf = (order: OrderOfPlan) =>
  order.products
    .filter(({ line }) => line.product.startsWith("mix"))
    .map(({ supplier, line }) => [line.product, supplier, line.lotTons, line.cost / line.toOrderTons]);

test("supplier, freight and lots of the blend are those of its ratios: each ton at its price and freight", () => {
  const terms = [{ product: "mix", supplier: "elevator", freightUsdPerTon: 10, lotTons: 0.5 }];
  expect(linesOf(orderWith({ terms }))).toEqual([
    ["mix1", "elevator", 0.5, 665],
    ["mix2", "elevator", 0.5, 665],
  ]);
});

test("a ratio's own terms go before them; with stock alone it still has the blend's supplier", () => {
  const freight = { product: "mix", supplier: "elevator", freightUsdPerTon: 10 };
  const own = { product: "mix2", supplier: "co-op", freightUsdPerTon: 4 };
  expect(linesOf(orderWith({ terms: [freight, own] }))).toEqual([
    ["mix1", "elevator", 0.1, 665],
    ["mix2", "co-op", 0.1, 659],
  ]);
  const stocked = { product: "mix1", supplier: "no supplier typed", onHandLb: 200 };
  const [first] = orderWith({ terms: [freight, stocked] }).products;
  expect([first!.supplier, first!.line.onHandLb, first!.line.freightPerTon]).toEqual(["elevator", 200, 10]);
  // With the blend's supplier named beside it the line says what the blend's says, but for what it says itself.
  const lots = { ...freight, lotTons: 1 };
  const named = { product: "mix1", supplier: "elevator", onHandLb: 200 };
  const [mix1] = orderWith({ terms: [lots, named] }).products;
  expect([mix1!.line.onHandLb, mix1!.line.freightPerTon, mix1!.line.lotTons]).toEqual([200, 10, 1]);
});

test("stock of the blend is no ratio's, and that is told", () => {
  const { products, notices } = orderWith({
    terms: [{ product: "mix", supplier: "elevator", onHandLb: 900 }],
  });
  expect(products.map(({ line }) => [line.product, line.onHandLb])).toContainEqual(["mix1", 0]);
  expect(notices.find(({ code }) => code === "stock-without-use")?.message).toContain("name mix1 or mix2");
});
