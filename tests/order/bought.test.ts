import { describe, expect, test } from "vitest";
import {
  bookedTiers,
  boughtOf,
  type OrderEntry,
  type OrderTerms,
  oneNameEach,
  orderLine,
  orderStand,
  orderTotals,
  orderTotalsCsv,
} from "../../src/order/index.ts";
import { near } from "../support/operations.ts";

/** Every figure here is worked by hand. */
const line = (lb: number, boughtTons: number, lotTons: number, onHandLb = 0) =>
  orderLine({
    product: "0-0-60",
    maps: [{ id: "M", lb }],
    overlapShare: 0,
    lossShare: 0,
    onHandLb,
    lotTons,
    pricePerTon: 480,
    freightPerTon: 16,
    bought: { tons: boughtTons, leftLb: boughtTons * 2_000, cost: boughtTons * 450 },
  });

describe("still to order: whole lots of what is short", () => {
  test.each([
    // 436,597 lb less 200,000 are 118.3 tons: five loads of 24.
    [436_597, 100, 24, 120],
    [23_335, 9, 5, 5],
    [23_335, 11, 5, 5],
    // 2.07 tons in whole tons.
    [26_140, 11, 1, 3],
    [23_335, 9.81, 0.1, 1.9],
    [23_335, 20, 0.1, 0],
    [20_000, 10, 1, 0],
  ])("%d lb, %d tons bought, lots of %d: %d tons", (lb, bought, lot, tons) => {
    expect(line(lb, bought, lot).toOrderTons).toBe(tons);
  });
  test("tons, cost and what is left are those of bought and still to order", () => {
    const have = line(23_335, 9, 5, 1_000);
    expect(have).toMatchObject({ shortLb: 4_335, seasonTons: 14, lots: 1 });
    near(have.cost, 9 * 450 + 5 * 496);
    near(have.leftLb, 28_000 + 1_000 - 23_335);
    near(have.leftValue, (5_665 / 2_000) * (6_530 / 14));
    near(have.plannedTons, 22_335 / 2_000);
  });
  test("more bought than it takes is left over, at what was paid", () => {
    const have = line(23_335, 20, 0.1);
    expect(have).toMatchObject({ seasonTons: 20, cost: 9_000, leftLb: 16_665, trimShare: null });
    near(have.leftValue, 8.3325 * 450);
  });
});

const entry = (kind: OrderEntry["kind"], date: string, tons: number, more: Partial<OrderEntry> = {}) => ({
  kind,
  date,
  tons,
  product: "0-0-60",
  supplier: "north",
  ...more,
});

describe("what is taken back", () => {
  test("a delivery below 0 takes one back; what is booked is due again", () => {
    const [stand] = orderStand(
      [
        entry("booked", "2027-01-20", 11),
        entry("delivered", "2027-03-20", 437),
        entry("delivered", "2027-03-21", -437),
        entry("delivered", "2027-03-21", 4.37),
      ],
      [],
    );
    expect(stand).toMatchObject({ bookedTons: 11, boughtTons: 11, beyondTons: 0 });
    near(stand!.deliveredTons, 4.37);
    near(stand!.dueTons, 6.63);
  });
  test("not more than is delivered from that supplier", () => {
    const book = [
      entry("delivered", "2027-03-20", 9),
      entry("delivered", "2027-03-25", -2, { supplier: "south" }),
    ];
    expect(() => orderStand(book, [])).toThrow(
      "0-0-60, south: 2.00 tons more are taken back than are delivered (the last on 2027-03-25: -2 tons)",
    );
  });
  test("cancelled takes off what is booked and not delivered by then, no more", () => {
    const over = orderStand([entry("booked", "2027-01-20", 9), entry("cancelled", "2027-02-20", 12)], []);
    expect(over[0]).toMatchObject({ bookedTons: 0, boughtTons: 0, beyondTons: 0, overCancelledTons: 3 });
    const late = [
      entry("booked", "2027-01-20", 9),
      entry("delivered", "2027-03-20", 9),
      entry("cancelled", "2027-03-25", 2),
    ];
    expect(orderStand(late, [])[0]).toMatchObject({ bookedTons: 9, boughtTons: 9, overCancelledTons: 2 });
    // Cancelled first, then delivered beyond what was left of the booking.
    const early = [
      entry("delivered", "2027-03-20", 8),
      entry("cancelled", "2027-02-01", 4),
      entry("booked", "2027-01-20", 10),
    ];
    expect(orderStand(early, [])[0]).toMatchObject({ bookedTons: 6, beyondTons: 2, overCancelledTons: 0 });
  });
  test("all cancelled and then delivered at a price of its own: that counts, without one the booking's", () => {
    const cancelled = [
      entry("booked", "2027-01-14", 5, { pricePerTon: 488 }),
      entry("cancelled", "2027-01-26", 5),
    ];
    const price = { usdPerTon: 780, freightOf: () => 0 };
    const priced = [...cancelled, entry("delivered", "2027-02-12", 2.5, { pricePerTon: 700 })];
    near(boughtOf(priced, price)!.cost, 1_750);
    expect(orderStand(priced, [])[0]!.bookedPricePerTon).toBeNull();
    near(boughtOf([...cancelled, entry("delivered", "2027-02-12", 2.5)], price)!.cost, 1_220);
  });
  test("less than nothing is neither booked nor cancelled", () => {
    expect(() => orderStand([entry("cancelled", "2027-01-20", -1)], [])).toThrow("tons cancelled");
  });
});

describe("the price of what is booked is that of what is left of it", () => {
  const both = [
    entry("booked", "2027-01-10", 5, { pricePerTon: 450 }),
    entry("booked", "2027-01-20", 4, { pricePerTon: 470 }),
    entry("booked", "2027-02-10", 3, { supplier: "south", pricePerTon: 495 }),
  ];
  const of = (...more: OrderEntry[]) => ({
    stand: orderStand([...both, ...more], [])[0]!,
    bought: boughtOf([...both, ...more], { usdPerTon: 480, freightOf: () => 0 })!,
  });
  test("2 of 9 tons cancelled at no price: their mean stays, and weighs less beside the other supplier's", () => {
    const { stand, bought } = of(entry("cancelled", "2027-03-01", 2));
    near(stand.bookedPricePerTon!, (7 * (4_130 / 9) + 3 * 495) / 10);
    near(bought.cost, 10 * stand.bookedPricePerTon!);
  });
  test("delivered beyond a booking: the price of what is booked is by what is booked, and the cost by what is bought", () => {
    const entries = [
      entry("booked", "2027-01-10", 1, { pricePerTon: 400 }),
      entry("booked", "2027-01-20", 5, { supplier: "south", pricePerTon: 500 }),
      entry("delivered", "2027-03-01", 3.5),
    ];
    const stand = orderStand(entries, [])[0]!;
    expect(stand).toMatchObject({ bookedTons: 6, boughtTons: 8.5 });
    near(stand.bookedPricePerTon!, 2_900 / 6);
    near(boughtOf(entries, { usdPerTon: 480, freightOf: () => 0 })!.cost, 3.5 * 400 + 5 * 500);
  });
  test("all of one cancelled: the price is the other's", () => {
    const { stand, bought } = of(entry("cancelled", "2027-03-01", 9));
    near(stand.bookedPricePerTon!, 495);
    near(bought.cost, 3 * 495);
    expect(stand.bySupplier[0]).toMatchObject({ bookedTons: 0, bookedPricePerTon: null });
  });
  test("cancelled at a booking's price it comes off that booking", () => {
    const { stand, bought } = of(entry("cancelled", "2027-03-01", 4, { pricePerTon: 470 }));
    near(bought.cost, 5 * 450 + 3 * 495);
    near(stand.bySupplier[0]!.bookedPricePerTon!, 450);
  });
  test("at another price, or more than is booked at it, it comes off all alike, and the line is named", () => {
    for (const more of [
      { tons: 4, pricePerTon: 460 },
      { tons: 5, pricePerTon: 470 },
    ]) {
      const line = entry("cancelled", "2027-03-01", more.tons, { pricePerTon: more.pricePerTon });
      near(of(line).bought.bySupplier[0]!.pricePerTon, 4_130 / 9);
      expect(bookedTiers([...both.slice(0, 2), line]).unmatched).toEqual([line]);
    }
  });
});

describe("one supplier, spelled otherwise", () => {
  test("blanks and case tell nobody apart; the first name stands", () => {
    const book = [{ supplier: "depot north " }, { supplier: "DEPOT  North" }, { supplier: "south" }];
    expect(oneNameEach(book, [{ supplier: "Depot North" }]).map(({ supplier }) => supplier)).toEqual([
      "Depot North",
      "Depot North",
      "south",
    ]);
  });
});

describe("from the record to the order", () => {
  const term: OrderTerms = {
    product: "0-0-60",
    supplier: "river",
    pricePerTon: 463,
    freightPerTon: 14,
    overlapShare: 0,
    lossShare: 0,
    onHandLb: 0,
  };
  const maps = [{ id: "M", fieldId: "A", product: "0-0-60", kind: "strip" as const, lb: 23_335 }];
  const freightOf = (supplier: string) => (supplier === "north" ? 9 : 14);
  const book = [
    entry("booked", "2027-01-20", 9, { pricePerTon: 455 }),
    entry("delivered", "2027-03-22", 9.81),
  ];
  const bought = boughtOf(book, { usdPerTon: 463, freightOf })!;

  test("9.81 x (455 + 9) paid, 1.9 x (463 + 14) to pay, each with its supplier", () => {
    const { products, suppliers, cost } = orderTotals(maps, [{ ...term, bought }]);
    near(cost, 4_551.84 + 906.3);
    expect(products[0]!.suppliers.map(({ supplier, tons }) => [supplier, tons])).toEqual([
      ["north", 9.81],
      ["river", 1.9],
    ]);
    expect(suppliers).toEqual(products[0]!.suppliers);
  });
  test("the table has what is booked, delivered, due, bought and still to order, and what the $ come from", () => {
    const totals = orderTotals(maps, [{ ...term, bought }]);
    const [heads, row] = new TextDecoder()
      .decode(orderTotalsCsv(totals, orderStand(book, [])))
      .trim()
      .split("\r\n")
      .map((text) => text.split(","));
    expect(Object.fromEntries(heads!.map((head, i) => [head, row![i]]))).toMatchObject({
      supplier: "north 9.81; river 1.9",
      on_hand_lb: "0",
      booked_tons: "9",
      delivered_tons: "9.81",
      due_tons: "0",
      bought_tons: "9.81",
      short_tons: "1.858",
      lots: "19",
      lot_tons: "0.1",
      to_order_tons: "1.9",
      season_tons: "11.71",
      price_usd_per_ton: "463",
      freight_usd_per_ton: "14",
      bought_usd: "4551.84",
      cost_usd: "5458.14",
    });
  });
  test("placed, net, on hand, what is left of the bought, and short can be followed in the table", () => {
    // 1,300 on hand and 38,000 bought, 14,200 placed: nothing on hand and 25,100 of the bought are left.
    const left = boughtOf([entry("booked", "2027-01-20", 19)], { usdPerTon: 463, freightOf }, 12_900);
    const totals = orderTotals([{ ...maps[0]!, lb: 32_549 }], [{ ...term, placedLb: 14_200, bought: left }]);
    const [heads, row] = new TextDecoder()
      .decode(orderTotalsCsv(totals))
      .trim()
      .split("\r\n")
      .map((text) => text.split(","));
    expect(Object.fromEntries(heads!.map((head, i) => [head, row![i]]))).toMatchObject({
      placed_lb: "14200",
      net_lb: "32549",
      gross_lb: "32549",
      on_hand_lb: "0",
      bought_tons: "19",
      bought_left_lb: "25100",
      short_tons: "3.725",
    });
  });
  test("what is left of the stock is no part of what was paid", () => {
    const held = boughtOf([entry("booked", "2027-01-20", 19, { pricePerTon: 791 })], {
      usdPerTon: null,
      freightOf: () => 9,
    });
    const totals = orderTotals([], [{ ...term, onHandLb: 1_300, bought: held }]);
    near(totals.cost, 19 * 800);
    near(totals.leftValue, 15_200 + 520);
    near(totals.leftOnHandValue, 520);
    expect(totals.products[0]!.line).toMatchObject({ leftLb: 39_300, leftOnHandLb: 1_300 });
    // Stock is used first: where a map takes all of it, what is over was paid this season.
    const used = orderTotals([{ ...maps[0]!, lb: 1_500 }], [{ ...term, onHandLb: 1_300, bought: held }]);
    expect(used.leftOnHandValue).toBe(0);
  });
  test("what is bought and no map takes is left over and counts", () => {
    const other = boughtOf([entry("booked", "2027-01-20", 9, { product: "0-0-62", pricePerTon: 455 })], {
      usdPerTon: null,
      freightOf: () => 0,
    });
    const { products, cost, leftValue } = orderTotals(maps, [
      term,
      { ...term, product: "0-0-62", pricePerTon: 0, isPriced: false, bought: other },
    ]);
    expect(products[1]).toMatchObject({ isPriced: true, byField: [], lowLb: null });
    near(products[1]!.line.leftLb, 18_000);
    near(cost, 11.7 * 477 + 4_095);
    near(leftValue, (65 / 2_000) * 477 + 4_095);
  });
  test("booked at a price, the rest at none: what is booked counts, what is to order does not", () => {
    const held = boughtOf([entry("booked", "2027-01-20", 9, { pricePerTon: 455 })], {
      usdPerTon: null,
      freightOf,
    });
    const totals = orderTotals(maps, [{ ...term, pricePerTon: 0, isPriced: false, bought: held }]);
    expect(totals.products[0]).toMatchObject({ isPriced: false, line: { toOrderTons: 2.7 } });
    near(totals.cost, 9 * 464);
    near(totals.products[0]!.line.cost, 9 * 464);
    expect(totals.suppliers.map(({ cost }) => cost)).toEqual([4_176, 0]);
    expect(totals.leftValue).toBe(0);
    const row = new TextDecoder().decode(orderTotalsCsv(totals)).split("\r\n")[1]!;
    expect(row.split(",").slice(16, 22)).toEqual(["", "14", "4176", "4176", "65", ""]);
  });
  test("a product without a price stands in no sum, its row has no $", () => {
    const totals = orderTotals(
      [...maps, { ...maps[0]!, id: "N", product: "mix" }],
      [term, { ...term, product: "mix", pricePerTon: 0, isPriced: false }],
    );
    near(totals.cost, 11.7 * 477);
    const row = new TextDecoder().decode(orderTotalsCsv(totals)).split("\r\n")[2]!;
    expect(row).toBe("river,mix,0,23335,23335,0,0,0,0,0,0,11.668,117,0.1,11.7,11.7,,14,,,65,,0,,");
  });
});
