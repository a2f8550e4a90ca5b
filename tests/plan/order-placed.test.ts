import { beforeAll, describe, expect, test } from "vitest";
import { orderWords } from "../../src/cli/words/order-words.ts";
import type { FieldStand } from "../../src/ledger/index.ts";
import { type OrderEntry, orderTotalsCsv } from "../../src/order/index.ts";
import { orderOfPlan, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = { ...seasonPlanDocument(), order: { overlapShare: 0, lossShare: 0 } };
const id = plan.fields[0]!.id;
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later", readings: "all" });
});

const laid = (product: string, lb: number, areaAc: number, [p2o5, k2o]: readonly [number, number]) => ({
  ...{ product, pass: "strip" as const, lb, areaAc },
  ...{ p2o5Lb: lb * p2o5, k2oLb: lb * k2o },
});
const map = (lb: number, ac: number) => laid("11-52-0", lb, ac, [0.52, 0]);
const potash = (lb: number, ac: number) => laid("0-0-60", lb, ac, [0, 0.6]);
const diammonium = (lb: number, ac: number) => laid("18-46-0", lb, ac, [0.46, 0]);

/** The order where so much lies in the strips of a field of 40 ac. */
function orderWith(placed: FieldStand["placed"], strippedAc: number, more: Partial<Plan> = {}) {
  const stand: FieldStand = {
    ...{
      fieldId: id,
      state: "part stripped",
      frozen: false,
      isSpreadFinished: false,
      strippedAc,
      areaAc: 40,
      toStripAc: 40,
      missing: [],
      stripReach: [],
      notByMaps: [],
    },
    ...{ p2o5Lb: 0, k2oLb: 0, placed, placedLines: [1], lastDate: null, lastStripDate: null },
  };
  const order = orderOfPlan({ ...plan, ...more }, result.fields, { stands: [stand] });
  const strip = (product: string): number =>
    order.products.find(({ line }) => line.product === product)!.byField[0]!.stripLb;
  const said = (code: string): string[] =>
    order.notices.filter((one) => one.code === code).map(({ message }) => message);
  return { order, strip, said };
}
const whole = (product: string): number =>
  result.fields[0]!.prescriptions.find((one) => one.pass === "strip" && one.product === product)!.totalLb;
const lbText = (value: number): string => Math.round(value).toLocaleString("en-US");

describe("acres with another product than today's map", () => {
  test("a field begun with another: the map's share of the acres that are left is to place", () => {
    // 16 of 40 ac got the other: 24 / 40 of the map are left; potash is the map's own, by its pounds.
    const { order, strip, said } = orderWith([diammonium(1_000, 16), potash(100, 16)], 16);
    expect(strip("11-52-0")).toBeCloseTo((whole("11-52-0") * 24) / 40, 6);
    expect(strip("0-0-60")).toBeCloseTo(whole("0-0-60") - 100, 6);
    expect(said("placed-other-product")).toEqual([
      `${result.fields[0]!.field.name}: by the ledger 16.0 of 40.0 ac got 18-46-0 in the strip, not the 11-52-0 of this plan's map: ${lbText((whole("11-52-0") * 16) / 40)} lb of the map do not count as to place there, at its mean rate; \`remainder\` works out what is left on the ground, by the logs or by the pass that is done`,
    ]);
    expect(said("stripped-not-finished")).toEqual([]);
    expect(order.products[0]!.line.placedLb).toBe(0);
  });

  test("both on their acres: the field is done, and nothing of the map is to order", () => {
    const third = whole("11-52-0") / 3;
    const { strip } = orderWith([map(third, 16), diammonium(900, 24), potash(5_000, 40)], 40);
    expect(strip("11-52-0")).toBeCloseTo(whole("11-52-0") * (16 / 40) - third, 6);
    // 20 ac are left of all: half the map, less what lies there.
    const half = orderWith([map(100, 8), diammonium(900, 12), potash(500, 20)], 20);
    expect(half.strip("11-52-0")).toBeCloseTo(whole("11-52-0") * (28 / 40) - 100, 6);
  });

  test("another nutrient's product, or one on acres that the map's has, takes nothing off", () => {
    const nitrogen = laid("21-0-0", 500, 16, [0, 0]);
    const { strip, said } = orderWith([nitrogen, potash(100, 16)], 16);
    expect(strip("11-52-0")).toBeCloseTo(whole("11-52-0"), 6);
    expect(said("placed-other-product")).toEqual([]);
    const both = orderWith([map(100, 16), diammonium(100, 16)], 16);
    expect(both.strip("11-52-0")).toBeCloseTo(whole("11-52-0") - 100, 6);
  });
});

test("strips that are done by acres with fewer pounds: what still counts is told, and how to be rid of it", () => {
  const { strip, said } = orderWith([map(whole("11-52-0") - 300, 40), potash(90_000, 40)], 40);
  expect(strip("11-52-0")).toBeCloseTo(300, 6);
  expect(said("stripped-not-finished")).toEqual([
    `${result.fields[0]!.field.name}: its strips are done by acres, and 300 lb of 11-52-0 still count as to place; if it is done: \`ledger --finish ${id}\``,
  ]);
});

describe("placed, and in no map", () => {
  test("never booked: told with pounds and tons, in no $", () => {
    const { order, said } = orderWith([diammonium(8_450, 16)], 16);
    expect(said("placed-not-in-order")).toEqual([
      "18-46-0: 8,450 lb (4.2 tons) are placed by the ledger, and no map of this plan and no booking has any: they stand in no $ of this order. Enter what was bought of it",
    ]);
    expect(order.products.map(({ line }) => line.product)).toEqual(["11-52-0", "0-0-60"]);
  });

  test("booked: what is placed of it is not left over", () => {
    const book: OrderEntry[] = [
      {
        date: "2027-02-01",
        kind: "booked",
        product: "18-46-0",
        supplier: "north",
        tons: 5,
        pricePerTon: 700,
      },
    ];
    const { said } = orderWith([diammonium(8_450, 16)], 16, { order: { ...plan.order, book } });
    // 10,000 lb less 8,450; 1,550 / 2,000 x $700.
    expect(said("bought-without-use")).toEqual([
      "18-46-0, north: 5.00 tons, $3,500, are bought and no map of this plan takes any: 8,450 lb of it are placed by the ledger, 1,550 lb, $543, count as left over",
    ]);
    expect(said("placed-not-in-order")).toEqual([]);
  });
});

describe("stock of a product that no map takes and nothing is bought of", () => {
  const terms = [{ product: "18-46-0", supplier: "north", onHandLb: 9_942, freightUsdPerTon: 14 }];
  const own = { order: { ...plan.order, terms } };

  test("stands in its own line, left over, and is told", () => {
    const { order, said } = orderWith([], 0, own);
    const product = order.products.find(({ line }) => line.product === "18-46-0")!;
    expect(product.line).toMatchObject({ netLb: 0, onHandLb: 9_942, toOrderTons: 0, leftLb: 9_942, cost: 0 });
    expect(product.line.leftOnHandLb).toBe(9_942);
    expect(said("stock-without-use")).toEqual([
      "18-46-0: 9,942 lb are on hand and no map of this plan takes any: all of it counts as left over",
    ]);
    expect(said("no-price").join()).not.toContain("18-46-0");
    const words = orderWords({ ...order, plan } as unknown as Parameters<typeof orderWords>[0]);
    expect(words).toContain(
      "  18-46-0: no map takes any; of the 9,942 lb left over 9,942 lb were on hand and are in no cost",
    );
    // No price of it is known: no $ of it anywhere, and the others' sum stands as before.
    expect(order.leftOnHandValue).toBe(orderWith([], 0, { order: plan.order! }).order.leftOnHandValue);
    expect(words.find((line) => line.startsWith("All"))).toMatch(/^All: /);
    const row = new TextDecoder().decode(orderTotalsCsv(order)).split("\r\n")[3];
    expect(row).toMatch(/^north,18-46-0,0,0,0,9942,.*,9942,,9942,,$/);
  });

  test("with a price it is next year's, in no cost; what was placed of it is gone", () => {
    const priced = { ...own, pricesUsdPerTon: { ...plan.pricesUsdPerTon, "18-46-0": 800 } };
    // 9,942 / 2,000 x $814.
    const { order } = orderWith([], 0, priced);
    expect(order.leftOnHandValue).toBeCloseTo(4_046.394, 6);
    expect(order.cost).toBe(orderWith([], 0, { order: plan.order! }).order.cost);
    const part = orderWith([diammonium(9_000, 16)], 16, own);
    expect(part.said("stock-without-use")[0]).toContain("942 lb are on hand");
    expect(orderWith([diammonium(9_942, 16)], 16, own).said("stock-without-use")).toEqual([]);
  });
});
