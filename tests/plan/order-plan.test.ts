import { beforeAll, describe, expect, test } from "vitest";
import type { OrderEntry } from "../../src/order/index.ts";
import { orderOfPlan, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { noNutrients } from "../../src/products/index.ts";
import { asFour, inOrderOf, seasonPlanDocument, standWith } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later", readings: "all" });
});
const four = () => asFour(result.fields[0]!);
const inOrder = inOrderOf(plan);

describe("order of a plan", () => {
  test("pounds are the run's totals; overlap, stock and price on top", () => {
    const order = orderOfPlan(plan, result.fields);
    for (const { line, byField } of order.products) {
      const total = result.totals.find((one) => one.product === line.product && one.pass === "all")!;
      expect(line.netLb).toBeCloseTo(total.lb, 6);
      expect(line.grossLb).toBeCloseTo(total.lb * 1.033, 6);
      expect(byField[0]!.stripLb + byField[0]!.broadcastLb).toBeCloseTo(total.lb, 6);
    }
    const [map] = order.products;
    // 500 lb on hand and the ton that is booked are more than it takes.
    expect(map!.line).toMatchObject({ shortLb: 0, toOrderTons: 0, seasonTons: 1 });
    expect(map!.line.leftLb).toBeCloseTo(2_500 - map!.line.grossLb, 6);
    expect(map!.line.cost).toBeCloseTo(map!.line.seasonTons * 798, 6);
    expect(map!.lowLb!).toBeLessThanOrEqual(map!.line.netLb);
    expect(map!.highLb!).toBeGreaterThanOrEqual(map!.line.netLb);
    expect(order.book[0]!.changeTons).toBeCloseTo((map!.line.grossLb - 500) / 2_000 - 1, 9);
  });

  test("the range is that of the written record; without all readings there is none, and none is in doubt where nothing goes", async () => {
    const written = await run(plan, sourceOf(smallFarmFiles()));
    const ranges = (fields: RunResult["fields"]) =>
      orderOfPlan(plan, fields).products.map(({ lowLb, highLb }) => [lowLb, highLb]);
    expect(ranges(result.fields)).toEqual(ranges(written.fields));
    expect(ranges(result.fields).flat()).not.toContain(null);
    const quick = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
    expect(ranges(quick.fields)).toEqual(ranges(result.fields).map(() => [null, null]));
    // One of four alike is finished, its spreader brings nothing: three quarters are left, and their range.
    const stands = ["a", "b", "c", "d"].map((id) => standWith(id, { frozen: id === "a" }));
    const [left] = orderOfPlan(inOrder, four(), { stands }).products;
    const [all] = orderOfPlan(inOrder, four()).products;
    expect(left!.line.netLb).toBeCloseTo(0.75 * all!.line.netLb, 6);
    expect(left!.lowLb).toBeCloseTo(0.75 * all!.lowLb!, 6);
    expect(left!.highLb).toBeCloseTo(0.75 * all!.highLb!, 6);
  });

  test("a product that brings neither oxide goes out flat: the readings of the need put nothing of it in doubt", () => {
    const fields = result.fields.map((field) => {
      const flat = { ...field.prescriptions[0]!, product: "21-0-0-24S", totalLb: 400 };
      const analysis = { ...noNutrients, n: 21, s: 24 };
      return { ...field, prescriptions: [...field.prescriptions, { ...flat, analysis }] };
    });
    const { products } = orderOfPlan(plan, fields);
    const [flat] = products.filter(({ line }) => line.product === "21-0-0-24S");
    expect([flat!.lowLb, flat!.line.netLb, flat!.highLb]).toEqual([400, 400, 400]);
    expect(products[0]!.lowLb).toBeLessThan(products[0]!.highLb!);
  });

  test("two suppliers, each its price and freight; what is delivered beyond a booking is bought", () => {
    const entry = { product: "0-0-60", date: "2027-02-14" };
    const terms = [
      { product: "0-0-60", supplier: "north", freightUsdPerTon: 10, onHandLb: 100 },
      { product: "0-0-60", supplier: "south", freightUsdPerTon: 25, onHandLb: 200 },
    ];
    const book = [
      { ...entry, kind: "booked" as const, supplier: "north", tons: 0.2, pricePerTon: 450 },
      { ...entry, kind: "booked" as const, supplier: "south", tons: 0.3, pricePerTon: 430 },
      { ...entry, kind: "delivered" as const, supplier: "north", tons: 0.25 },
    ];
    const pricesUsdPerTon = { "0-0-60": 480 };
    const bought = { ...plan, pricesUsdPerTon, order: { terms, book, overlapShare: 0, lossShare: 0 } };
    const order = orderOfPlan(bought, result.fields);
    const { line } = order.products.find((one) => one.line.product === "0-0-60")!;
    expect(line.shortLb).toBeCloseTo(line.grossLb - 300 - 0.55 * 2_000, 6);
    // 0.25 tons of the north and 0.3 of the south are bought.
    // In lots of a tenth: what is short, not what is left of a rounded whole.
    const tenths = (lb: number) => Math.ceil(lb / 200) / 10;
    const rest = tenths(line.grossLb - 1_400);
    expect(rest).toBeGreaterThan(0.1);
    expect(order.toOrderTons["0-0-60"]).toBeCloseTo(rest, 9);
    expect(line.cost).toBeCloseTo(0.25 * 460 + 0.3 * 455 + rest * 490, 6);
    expect(order.suppliers.find((one) => one.supplier === "south")).toMatchObject({ tons: 0.3 });
    const [fit] = order.fit;
    expect(fit!.boughtLb).toBeCloseTo(0.55 * 2_000 + 300, 6);
    const told = order.notices.map(({ code, message }) => `${code}: ${message}`).join("\n");
    expect(told).toContain("delivered-beyond-booking: 0-0-60, north: 0.05 tons more");
    expect(told).toContain("several-suppliers: 0-0-60: 2 suppliers");
    // Nobody booked it, but it lies there.
    const spot = { ...entry, kind: "delivered" as const, supplier: "coast", tons: 0.4 };
    const only = orderOfPlan({ ...bought, order: { ...bought.order, book: [spot] } }, result.fields);
    expect(only.toOrderTons["0-0-60"]).toBeCloseTo(tenths(line.grossLb - 1_100), 9);
  });

  test("short pounds are those to be bought: with overlap and loss they and the tons to order are one figure", () => {
    const book = [
      { date: "2027-02-14", kind: "booked" as const, product: "0-0-60", supplier: "elevator", tons: 0.6 },
    ];
    const [fit] = orderOfPlan(
      { ...plan, order: { book, overlapShare: 0.05, lossShare: 0.02 } },
      result.fields,
    ).fit;
    const gross = orderOfPlan(
      { ...plan, order: { overlapShare: 0.05, lossShare: 0.02 } },
      result.fields,
    ).products.find(({ line }) => line.product === "0-0-60")!.line.grossLb;
    expect(fit!.boughtLb + fit!.shortLb).toBeCloseTo(gross, 6);
  });

  test("what is placed is not ordered again; a finished strip wants nothing more", () => {
    const order = orderOfPlan(plan, result.fields);
    const stands = [
      standWith("low-forty", {
        frozen: true,
        placed: [{ product: "11-52-0", pass: "strip", lb: 100, areaAc: 9, p2o5Lb: 0, k2oLb: 0 }],
      }),
    ];
    const less = orderOfPlan(plan, result.fields, { stands });
    const strip = order.products[0]!.byField[0]!.stripLb;
    expect(less.products[0]!.line.netLb).toBeCloseTo(order.products[0]!.line.netLb - strip, 6);
  });

  test("what is placed counts against stock first, and again where booking and plan are compared", () => {
    const terms = [{ product: "11-52-0", supplier: "elevator", onHandLb: 300 }];
    const book = [
      { date: "2027-02-14", kind: "booked" as const, product: "11-52-0", supplier: "elevator", tons: 3 },
    ];
    const booked = { ...plan, order: { terms, book, overlapShare: 0, lossShare: 0 } };
    const orderAfter = (lb: number) =>
      orderOfPlan(booked, result.fields, {
        stands: [
          standWith("low-forty", {
            placed: [{ product: "11-52-0", pass: "strip", lb, areaAc: 9, p2o5Lb: 0, k2oLb: 0 }],
          }),
        ],
      });
    const before = orderOfPlan(booked, result.fields);
    // Without overlap and loss a pound placed is a pound of the maps less: the plan takes what it took.
    for (const lb of [200, 900]) {
      const after = orderAfter(lb);
      const [stood, was] = [after.book[0]!, before.book[0]!];
      expect(stood.plannedTons!).toBeCloseTo(was.plannedTons!, 9);
      expect(stood.changeTons!).toBeCloseTo(stood.plannedTons! - 3, 9);
      const { line } = after.products[0]!;
      expect(line.netLb).toBeCloseTo(before.products[0]!.line.netLb - lb, 6);
      expect(line.onHandLb).toBe(Math.max(0, 300 - lb));
      // 3 tons are bought; what is placed beyond the stock came out of them.
      expect(line.boughtLeftLb).toBeCloseTo(6_000 - Math.max(0, lb - 300), 6);
      expect(line.shortLb).toBe(0);
      expect(line.leftLb).toBeCloseTo(line.onHandLb + line.boughtLeftLb - line.grossLb, 6);
      expect(after.notices.map(({ code }) => code)).toContain("stock-placed");
    }
    expect(before.notices.map(({ code }) => code)).not.toContain("stock-placed");
  });

  test("more placed than was on hand and delivered cannot be, and is told with the figures", () => {
    const [supplier, product] = ["elevator", "0-0-60"];
    const delivered = { date: "2027-03-01", kind: "delivered" as const, product, supplier, tons: 0.25 };
    const told = (lb: number, order: Plan["order"]) =>
      orderOfPlan({ ...plan, order: order! }, result.fields, {
        stands: [
          standWith("low-forty", {
            placed: [{ product, pass: "strip", lb, areaAc: 9, p2o5Lb: 0, k2oLb: 0 }],
          }),
        ],
      }).notices.filter(({ code }) => code === "placed-beyond-stock");
    const terms = [{ product, supplier, onHandLb: 275 }];
    expect(told(1_250, { terms, book: [delivered] }).map(({ message }) => message)).toEqual([
      "0-0-60: 1,250 lb are placed by the ledger and only 775 lb were there: 275 on hand before the season, 500 delivered. Enter the deliveries that lack, or correct stock or ledger",
    ]);
    expect(told(775, { terms, book: [delivered] })).toEqual([]);
    // Who types neither stock nor purchases keeps no account of them.
    expect(told(1_250, { overlapShare: 0 })).toEqual([]);
  });

  test("fitted to what is bought, what is placed is no longer there to lay", () => {
    const book = [
      { date: "2027-02-14", kind: "booked" as const, product: "0-0-60", supplier: "elevator", tons: 0.6 },
    ];
    const tight = { ...plan, order: { book, overlapShare: 0, lossShare: 0 } };
    const placed = [{ product: "0-0-60", pass: "strip" as const, lb: 400, areaAc: 9, p2o5Lb: 0, k2oLb: 0 }];
    const [fit] = orderOfPlan(tight, result.fields, { stands: [standWith("low-forty", { placed })] }).fit;
    const [whole] = orderOfPlan(tight, result.fields).fit;
    expect(fit!.boughtLb).toBe(800);
    expect(fit!.cutLb).toBeCloseTo(whole!.cutLb, 6);
  });

  test("the record tells a ticket twice, more delivered than booked or wanted, and another price", () => {
    const entry = { product: "0-0-60", supplier: "elevator" };
    const book = [
      { ...entry, date: "2027-02-14", kind: "booked" as const, tons: 12, pricePerTon: 470 },
      { ...entry, date: "2027-03-22", kind: "delivered" as const, tons: 6.05, ticket: "1190" },
      { ...entry, date: "2027-03-22", kind: "delivered" as const, tons: 6.4, ticket: "1190" },
    ];
    const told = orderOfPlan({ ...plan, order: { book } }, result.fields).notices;
    const messages = (code: string) => told.filter((one) => one.code === code).map(({ message }) => message);
    expect(messages("ticket-twice")).toEqual([
      "ticket 1190 of elevator stands twice: 6.05 tons 0-0-60 on 2027-03-22 and 6.4 tons 0-0-60 on 2027-03-22; both are counted",
    ]);
    expect(messages("delivered-beyond-booking")).toEqual([
      "0-0-60, elevator: 0.45 tons more are delivered than the 12.00 booked; they count as bought",
    ]);
    expect(messages("booked-price-differs")[0]).toContain("booked at $470.00 a ton");
    const other = book.map((one, i) => (i === 2 ? { ...one, ticket: "1191" } : one));
    expect(
      orderOfPlan({ ...plan, order: { book: other } }, result.fields).notices.map(({ code }) => code),
    ).not.toContain("ticket-twice");
    const supplied = [{ product: "0-0-60", supplier: "elevator" }];
    const wanted = orderOfPlan({ ...plan, order: { book, terms: supplied } }, result.fields);
    const over = wanted.notices.find(({ code }) => code === "delivered-beyond-plan")!;
    const { plannedTons } = wanted.book[0]!;
    expect(over.message).toContain(
      `12.45 tons are delivered and the plan now takes ${plannedTons!.toFixed(2)}: ${(12.45 - plannedTons!).toFixed(2)} tons, $`,
    );
  });

  test("less booked than the maps take: ground below critical keeps its pounds, the farm's tons are held", () => {
    const terms = [{ product: "0-0-60", supplier: "elevator", onHandLb: 200 }];
    const book = [
      { date: "2027-02-14", kind: "booked" as const, product: "0-0-60", supplier: "elevator", tons: 0.6 },
    ];
    const order = orderOfPlan(
      { ...plan, order: { terms, book, overlapShare: 0, lossShare: 0 } },
      result.fields,
    );
    const [fit] = order.fit;
    expect(fit!.boughtLb).toBe(1400);
    expect(fit!.byField[0]!.keptLb).toBeCloseTo(1400, 6);
    expect(fit!.cutLb).toBeCloseTo(order.products[1]!.line.netLb - 1400, 6);
    const [first, rest] = fit!.layers;
    expect(first!.layer).toBe("below critical");
    expect(first!.keptShare).toBeGreaterThanOrEqual(rest!.keptShare);
    // Where nothing lies below critical, as by a guide without such a level, no layer speaks of it.
    const noCritical = result.fields.map((one) => {
      const K2O = { ...one.need.K2O, rule: { ...one.need.K2O.rule!, belowCritical: null } };
      return { ...one, need: { ...one.need, K2O } };
    });
    const [flat] = orderOfPlan(
      { ...plan, order: { terms, book, overlapShare: 0, lossShare: 0 } },
      noCritical,
    ).fit;
    expect(flat!.layers.map(({ layer }) => layer)).toEqual(["the rest"]);
    expect(flat!.byField[0]!.keptLb).toBeCloseTo(1400, 6);
    const enough = [{ ...book[0]!, tons: 5 }];
    expect(orderOfPlan({ ...plan, order: { terms, book: enough } }, result.fields).fit).toEqual([]);
  });

  test("booked tons cost what they were booked at, the rest the plan's price, whoever sells them", () => {
    const terms = [{ product: "0-0-60", supplier: "elevator", freightUsdPerTon: 16 }];
    const one = { date: "2027-02-14", kind: "booked" as const, product: "0-0-60", supplier: "co-op" };
    const orderOf = (...book: { tons: number; pricePerTon?: number }[]) =>
      orderOfPlan(
        { ...plan, order: { terms, book: book.map((more) => ({ ...one, ...more })) } },
        result.fields,
      );
    const none = orderOf();
    const { seasonTons } = none.products[1]!.line;
    expect(none.products[1]!.line.cost).toBeCloseTo(seasonTons * 496, 9);
    const some = orderOf({ tons: 0.4, pricePerTon: 900 });
    expect(some.products[1]!.line.cost).toBeCloseTo(0.4 * 900 + (seasonTons - 0.4) * 496, 9);
    // The elevator's freight is not the co-op's, of which none is told.
    expect(some.cost - none.cost).toBeCloseTo(0.4 * (900 - 496), 9);
    expect(some.notices.filter(({ code }) => code === "no-freight").map(({ message }) => message)).toEqual([
      "0-0-60: no freight is told for co-op; the 0.40 tons bought there count without any (order.terms has it by product and supplier)",
    ]);
    expect(none.notices.map(({ code }) => code)).not.toContain("no-freight");
    expect(some.toOrderTons["0-0-60"]).toBeCloseTo(seasonTons - 0.4, 9);
    expect(some.suppliers.find(({ supplier }) => supplier === "co-op")!.tons).toBeCloseTo(0.4, 9);
    // More than the plan wants is paid too; without a price it counts at the plan's.
    const over = orderOf({ tons: seasonTons + 1, pricePerTon: 470 });
    expect(over.products[1]!.line.cost).toBeCloseTo((seasonTons + 1) * 470, 9);
    expect(over.toOrderTons["0-0-60"]).toBe(0);
    // The plan takes what it takes, in no lots: a little less than the tenth that is ordered for it.
    const { line } = over.products[1]!;
    expect(over.book.find(({ product }) => product === "0-0-60")!.changeTons).toBeCloseTo(
      line.grossLb / 2_000 - (seasonTons + 1),
      9,
    );
    expect(line.leftLb).toBeCloseTo((seasonTons + 1) * 2_000 - line.grossLb, 6);
    expect(line.leftValue).toBeCloseTo((line.leftLb / 2_000) * 470, 6);
    expect(orderOf({ tons: 0.4 }).cost).toBeCloseTo(none.cost - 0.4 * 16, 9);
  });

  test("a product with blanks around it is the same product; the same booking twice is a doubt", () => {
    const one = {
      date: "2027-02-14",
      kind: "booked" as const,
      product: "0-0-60",
      supplier: "elevator",
      tons: 5,
    };
    const orderOf = (...book: OrderEntry[]) => orderOfPlan({ ...plan, order: { book } }, result.fields);
    const blank = orderOf({ ...one, product: " 0-0-60 ", pricePerTon: 450 });
    expect(blank.products.map(({ line }) => line.product)).toEqual(["11-52-0", "0-0-60"]);
    expect(blank.toOrderTons["0-0-60"]).toBe(0);
    const twice = (...more: OrderEntry[]) =>
      orderOf({ ...one, pricePerTon: 450 }, { ...one, pricePerTon: 450 }, ...more)
        .notices.filter(({ code }) => code === "booking-twice")
        .map(({ message }) => message);
    expect(twice()).toEqual([
      "5 tons 0-0-60 of elevator booked on 2027-02-14 stand twice, alike in price; both are counted",
    ]);
    expect(twice({ ...one, kind: "cancelled", date: "2027-02-15" })).toEqual([]);
    expect(orderOf(one, { ...one, pricePerTon: 450 }).notices.map(({ code }) => code)).not.toContain(
      "booking-twice",
    );
    const off = orderOf(
      { ...one, pricePerTon: 450 },
      { ...one, kind: "cancelled", date: "2027-02-15", tons: 2, pricePerTon: 470 },
    );
    expect(off.notices.find(({ code }) => code === "cancelled-price-unused")!.message).toContain(
      "the price of $470.00 on the 2 tons cancelled on 2027-02-15 is not used",
    );
  });

  test("deliveries that may be one: a ticket written otherwise, none to tell them apart", () => {
    const one = {
      date: "2027-03-02",
      kind: "delivered" as const,
      product: "0-0-60",
      supplier: "elevator",
      tons: 0.5,
    };
    const codes = (...tickets: (string | undefined)[]) =>
      orderOfPlan(
        {
          ...plan,
          order: { book: tickets.map((ticket) => (ticket === undefined ? one : { ...one, ticket })) },
        },
        result.fields,
      )
        .notices.map(({ code }) => code)
        .filter((code) => code.endsWith("-twice"));
    expect(codes("T1", "t1 ")).toEqual(["ticket-twice"]);
    expect(codes(undefined, undefined)).toEqual(["delivery-twice"]);
    expect(codes("T1", undefined)).toEqual(["delivery-twice"]);
    expect(codes("T1", "T2")).toEqual([]);
  });

  test("what is bought beyond the plan, of another product or cancelled twice is told with tons and $", () => {
    const line = (more: Partial<OrderEntry>): OrderEntry => ({
      date: "2027-02-14",
      kind: "booked",
      product: "0-0-60",
      supplier: "elevator",
      tons: 20,
      pricePerTon: 455,
      ...more,
    });
    const orderOf = (book: readonly OrderEntry[], more: Partial<Plan> = {}) =>
      orderOfPlan({ ...plan, ...more, order: { book } }, result.fields);
    const said = (order: ReturnType<typeof orderOf>, code: string) =>
      order.notices.filter((one) => one.code === code).map(({ message }) => message);
    const over = orderOf([line({})]);
    const { grossLb, leftLb, leftValue } = over.products[1]!.line;
    expect(leftLb).toBeCloseTo(40_000 - grossLb, 6);
    expect(leftValue).toBeCloseTo((leftLb / 2_000) * 455, 6);
    expect(said(over, "booked-beyond-plan")).toEqual([
      `0-0-60, elevator: 20.00 tons are bought, 0.00 of them delivered, and the plan now takes ${(grossLb / 2_000).toFixed(2)}: ${(leftLb / 2_000).toFixed(2)} tons, $${Math.round(leftValue).toLocaleString("en-US")}, will be left`,
    ]);
    // Nothing is still to order, so nothing counts at the plan's price.
    expect(said(over, "booked-price-differs")).toEqual([
      "0-0-60, elevator: booked at $455.00 a ton: what is booked counts at that",
    ]);
    const other = orderOf([line({ product: "0-0-62", tons: 9 })]);
    expect(said(other, "bought-without-use")).toEqual([
      "0-0-62, elevator: 9.00 tons, $4,095, are bought and no map of this plan takes any: all of it counts as left over",
    ]);
    expect(other.cost - orderOf([]).cost).toBeCloseTo(4_095, 6);
    expect(other.toOrderTons["0-0-62"]).toBe(0);
    const twice = orderOf([line({ tons: 9 }), line({ kind: "cancelled", date: "2027-02-20", tons: 12 })]);
    expect(twice.products[1]!.line.boughtTons).toBe(0);
    expect(twice.notices.filter(({ where }) => where === "order.book").map(({ code }) => code)).toEqual([
      "cancelled-beyond-booking",
    ]);
    // A part of a blend is not held against the blend.
    const blends = [{ id: "mix", of: ["0-0-60", "11-52-0"], fit: "cover-both" as const }];
    expect(said(orderOf([line({})], { blends }), "booked-beyond-plan")[0]).toContain(
      "it is a part of the blend mix, and nothing bought of a part is reckoned against a blend",
    );
  });

  test("one supplier spelled twice is one; a delivery taken back leaves no second ticket", () => {
    const line = { product: "0-0-60", supplier: "Depot North", date: "2027-02-14" };
    const book: OrderEntry[] = [
      { ...line, kind: "booked", tons: 0.9, pricePerTon: 455 },
      { ...line, kind: "delivered", supplier: "depot north ", tons: 0.49, ticket: "1" },
      { ...line, kind: "delivered", supplier: "depot north ", tons: -0.49, ticket: "1" },
      { ...line, kind: "delivered", tons: 0.45, ticket: "1" },
    ];
    const terms = [{ product: "0-0-60", supplier: "DEPOT NORTH", freightUsdPerTon: 9 }];
    const order = orderOfPlan({ ...plan, order: { terms, book } }, result.fields);
    expect(order.products[1]!.line.boughtTons).toBeCloseTo(0.9, 9);
    expect(order.products[1]!.suppliers.map(({ supplier }) => supplier)).toEqual(["DEPOT NORTH"]);
    expect(order.book[0]!.deliveredTons).toBeCloseTo(0.45, 9);
    expect(order.notices.map(({ code }) => code)).not.toContain("ticket-twice");
    expect(order.products[1]!.bought[0]!.cost).toBeCloseTo(0.9 * 464, 9);
  });

  test("a price that nobody typed leaves no silent $", () => {
    const order = orderOfPlan({ ...plan, pricesUsdPerTon: {} }, result.fields, { prices: { "0-0-60": 500 } });
    expect(order.priced).toEqual({ "11-52-0": false, "0-0-60": false });
    expect(order.notices[0]).toMatchObject({ code: "no-price" });
    expect(order.whatIf[0]!.cost).toBeCloseTo(order.products[1]!.line.seasonTons * 500, 9);
  });
});
