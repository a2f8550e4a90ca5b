import { describe, expect, test } from "vitest";
import {
  bridgeLimitLb,
  federalLimitsLb,
  fitToBought,
  loadSchedule,
  nutrientPrice,
  type OrderLineInput,
  orderLine,
  orderStand,
  orderTotals,
  orderTotalsCsv,
  truckLoadTons,
  whatIfCost,
} from "../../src/order/index.ts";
import { checkRow, example, near, numbersOf } from "../support/operations.ts";

const { inputs, expected } = example("f1");
const line = (product: "MAP" | "MOP"): OrderLineInput => ({
  product,
  maps: inputs.maps.map((map: Record<string, number> & { id: string }) => ({
    id: map.id,
    lb: map[product]!,
  })),
  overlapShare: inputs.overlap,
  lossShare: inputs.loss,
  onHandLb: inputs.onHandLb[product],
  lotTons: inputs.loadTons,
  pricePerTon: inputs.pricePerTon[product],
  freightPerTon: inputs.freightPerTon,
});

describe("f1: order lines", () => {
  test.each(["MAP", "MOP"] as const)("%s", (product) => {
    const have = orderLine(line(product));
    const want = expected[product];
    expect(have.netLb).toBe(expected.totals[product]);
    near(have.grossLb, want.grossLb);
    near(have.shortLb, want.shortLb);
    near(have.shortTons, want.tons);
    expect(have.lots).toBe(want.units);
    expect(have.seasonTons).toBe(want.orderTons);
    near(have.leftLb, want.leftLb);
    near(have.cost, want.cost);
  });
  test("the trim that saves a load, and it does", () => {
    const input = line("MOP");
    const { trimShare } = orderLine(input);
    near(trimShare, expected.trimMOP);
    const trimmed = input.maps.map((map) => ({ ...map, lb: map.lb * (1 - trimShare!) }));
    expect(orderLine({ ...input, maps: trimmed }).lots).toBe(5);
    const less = input.maps.map((map) => ({ ...map, lb: map.lb * (1 - trimShare! + 1e-6) }));
    expect(orderLine({ ...input, maps: less }).lots).toBe(6);
  });
  test("map by map it would be more loads", () => {
    for (const product of ["MAP", "MOP"] as const) {
      const input = line(product);
      const lots = input.maps.map((map) => orderLine({ ...input, maps: [map], onHandLb: 0 }).lots);
      expect(lots).toEqual(expected[`perMapUnits${product}`]);
    }
  });
  test("a price 10 % up", () => {
    const { seasonTons } = orderLine(line("MOP"));
    near(whatIfCost(seasonTons, inputs.pricePerTon.MOP, inputs.freightPerTon, 0.1), expected.whatIf10pctMOP);
  });
  test("0.1 ton by default, nothing below zero", () => {
    const { lotTons: _, ...tenth } = line("MAP");
    expect(orderLine(tenth)).toMatchObject({ seasonTons: 91.5, lots: 915 });
    expect(orderLine({ ...tenth, onHandLb: 500_000 })).toMatchObject({
      seasonTons: 0,
      cost: 0,
      trimShare: null,
    });
    expect(
      orderLine({ ...tenth, maps: [{ id: "M", lb: 24_600 }], overlapShare: 0, lossShare: 0, onHandLb: 0 })
        .seasonTons,
    ).toBe(12.3);
    // What is told as 0 lb short is no lot to buy; half a pound is.
    const rest = (lb: number) =>
      orderLine({ ...tenth, maps: [{ id: "M", lb }], onHandLb: 0, lossShare: 0, overlapShare: 0 });
    expect([rest(0.41).lots, rest(0.6).lots]).toEqual([0, 1]);
    expect(() => orderLine({ ...tenth, lossShare: 0.7 })).toThrow("lossShare");
  });
});

test("cost a pound of nutrient (New Mexico State Univ. A-133, method); value of 60-40-50 (46 Pa.B. 2860)", () => {
  near(nutrientPrice(480, 60), 0.4);
  // 11-52-0 at $780 with N at $0.50: 780 - 110 = 670 over 1,040 lb.
  near(nutrientPrice(780, 52, [{ percent: 11, pricePerLb: 0.5 }]), 670 / 1_040);
  near(60 * 0.55 + 40 * 0.48 + 50 * 0.41, Number(checkRow("nutrient value of 60 lb N").expected));
});

test("truck loads: bridge formula and federal limits (from memory, and quoted second-hand)", () => {
  const row = checkRow("bridge formula");
  expect(row.verified).toBe("memory");
  expect(bridgeLimitLb(51, 5)).toBe(Number(row.expected.split("-> ")[1]));
  expect(numbersOf(checkRow("federal limits").expected)).toEqual([
    federalLimitsLb.singleAxle,
    federalLimitsLb.tandem,
    federalLimitsLb.gross,
  ]);
  // 80,000 lb gross less 31,000 lb empty.
  expect(truckLoadTons(80_000, 31_000)).toBe(24.5);
});

describe("from maps to suppliers", () => {
  const terms = { overlapShare: 0, lossShare: 0, onHandLb: 0 };
  const totals = orderTotals(
    [
      {
        id: "A-strip",
        fieldId: "A",
        product: "11-52-0",
        kind: "strip",
        lb: 10_000,
        lowLb: 9_000,
        highLb: 11_500,
      },
      { id: "A-broadcast", fieldId: "A", product: "0-0-60", kind: "broadcast", lb: 4_000 },
      {
        id: "B-strip",
        fieldId: "B",
        product: "11-52-0",
        kind: "strip",
        lb: 6_000,
        lowLb: 5_500,
        highLb: 6_500,
      },
    ],
    [
      { product: "11-52-0", supplier: "north", pricePerTon: 700, ...terms },
      { product: "0-0-60", supplier: "south", pricePerTon: 400, ...terms },
    ],
  );
  test("fields, ranges, suppliers, cost", () => {
    const [map, mop] = totals.products;
    expect(map).toMatchObject({ supplier: "north", lowLb: 14_500, highLb: 18_000 });
    expect(map!.byField).toEqual([
      { fieldId: "A", stripLb: 10_000, broadcastLb: 0 },
      { fieldId: "B", stripLb: 6_000, broadcastLb: 0 },
    ]);
    expect(mop).toMatchObject({ lowLb: null, highLb: null });
    expect(totals.suppliers).toEqual([
      { supplier: "north", tons: 8, cost: 5_600 },
      { supplier: "south", tons: 2, cost: 800 },
    ]);
    expect(totals.cost).toBe(6_400);
  });
  test("a table, one line a product", () => {
    const lines = new TextDecoder().decode(orderTotalsCsv(totals)).trim().split("\r\n");
    expect(lines.length).toBe(3);
    expect(lines[1]).toBe(
      "north,11-52-0,0,16000,16000,0,0,0,0,0,0,8,80,0.1,8,8,700,0,0,5600,0,0,0,14500,18000",
    );
  });
  test("a product without terms is named", () => {
    expect(() =>
      orderTotals([{ id: "M", fieldId: "A", product: "46-0-0", kind: "strip", lb: 1 }], []),
    ).toThrow("46-0-0");
  });
});

describe("the dated record", () => {
  const entries = [
    { date: "2026-01-10", kind: "booked", product: "0-0-60", supplier: "south", tons: 100, pricePerTon: 400 },
    { date: "2026-02-01", kind: "booked", product: "0-0-60", supplier: "south", tons: 50, pricePerTon: 430 },
    { date: "2026-02-20", kind: "cancelled", product: "0-0-60", supplier: "south", tons: 10 },
    {
      date: "2026-04-02",
      kind: "delivered",
      product: "0-0-60",
      supplier: "south",
      tons: 24.3,
      ticket: "1177",
    },
  ] as const;
  test("booked, delivered, due, and the plan of today against it", () => {
    const have = orderStand(entries, [
      { product: "0-0-60", supplier: "south", tons: 150 },
      { product: "11-52-0", supplier: "north", tons: 40 },
    ]);
    expect(have[0]).toMatchObject({
      bookedTons: 140,
      deliveredTons: 24.3,
      bookedPricePerTon: 410,
      changeTons: 10,
    });
    near(have[0]!.dueTons, 115.7);
    expect(have[1]).toMatchObject({ bookedTons: 0, changeTons: 40, bookedPricePerTon: null });
    expect(orderStand(entries, [])[0]).toMatchObject({ plannedTons: null, changeTons: null });
  });
  test("what is booked elsewhere is booked: a product is held against the plan whoever sells it", () => {
    const book = [
      { date: "2026-01-10", kind: "booked", product: "0-0-60", supplier: "co-op", tons: 7, pricePerTon: 470 },
      { date: "2026-01-11", kind: "booked", product: "0-0-60", supplier: "south", tons: 5 },
      { date: "2026-04-02", kind: "delivered", product: "0-0-60", supplier: "south", tons: 6 },
    ] as const;
    const have = orderStand(book, [{ product: "0-0-60", supplier: "elevator", tons: 12.2 }]);
    expect(have.length).toBe(1);
    expect(have[0]).toMatchObject({ supplier: "co-op, south", bookedTons: 12, plannedTons: 12.2 });
    // The sixth ton of south's was delivered beyond its five and will not be delivered again.
    near(have[0]!.boughtTons, 13);
    near(have[0]!.changeTons!, -0.8);
    // Six delivered by one do not take anything off what the other still owes.
    expect(have[0]).toMatchObject({ dueTons: 7, beyondTons: 1 });
    expect(have[0]!.bySupplier).toMatchObject([
      { supplier: "co-op", bookedTons: 7, dueTons: 7, bookedPricePerTon: 470 },
      { supplier: "south", bookedTons: 5, beyondTons: 1, bookedPricePerTon: null },
    ]);
  });
  test("loads by date, by hand", () => {
    const use = [
      { date: "2026-04-12", lb: 60_000 },
      { date: "2026-04-10", lb: 30_000 },
      { date: "2026-04-11", lb: 40_000 },
    ];
    // 20,000 on hand: 48,000 for the 10th, 48,000 for the 12th, the last 14,000 too.
    expect(loadSchedule({ use, onHandLb: 20_000, loadTons: 24 })).toEqual([
      { number: 1, neededOn: "2026-04-10", tons: 24 },
      { number: 2, neededOn: "2026-04-11", tons: 24 },
      { number: 3, neededOn: "2026-04-12", tons: 7 },
    ]);
  });
  test("fit to what is bought: the last layer that fits in part is cut by one share", () => {
    const parts = [
      { id: "1", fieldId: "A", layer: "below critical, P", lb: 5_000 },
      { id: "2", fieldId: "A", layer: "build-up, P", lb: 4_000 },
      { id: "3", fieldId: "B", layer: "maintenance, P", lb: 6_000 },
    ];
    const order = ["below critical, P", "maintenance, P", "build-up, P"];
    const have = fitToBought({ parts, order, boughtLb: 8_000, overlapShare: 0, lossShare: 0 });
    expect(have.keptLb).toEqual([5_000, 0, 3_000]);
    expect(have.cutLb).toBe(7_000);
    const lossy = fitToBought({ parts, order, boughtLb: 20_000, overlapShare: 0.033, lossShare: 0.01 });
    near(lossy.availableLb, (20_000 * 0.99) / 1.033);
    expect(lossy.keptLb).toEqual([5_000, 4_000, 6_000]);
  });
});
