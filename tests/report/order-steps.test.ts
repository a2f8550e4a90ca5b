import { expect, test } from "vitest";
import { orderWords } from "../../src/cli/words/order-words.ts";
import {
  boughtOf,
  type OrderEntry,
  type OrderTerms,
  orderStand,
  orderTotals,
} from "../../src/order/index.ts";
import {
  allUsdText,
  costText,
  leftOnHandWords,
  orderSteps,
  placedWords,
  suppliersText,
} from "../../src/report/index.ts";

const terms = { supplier: "elevator", freightPerTon: 16, overlapShare: 0, lossShare: 0, onHandLb: 0 };
const map = (product: string, lb: number) => ({
  id: product,
  fieldId: "A",
  product,
  kind: "strip" as const,
  lb,
});

/** Every figure here is worked by hand. */
test("pounds, what is on hand, lots, price and freight lead to the dollars", () => {
  const order = orderTotals(
    [map("11-52-0", 16_795)],
    [{ ...terms, product: "11-52-0", pricePerTon: 780, onHandLb: 1_200 }],
  );
  expect(orderSteps(order)).toEqual([
    "11-52-0: 16,795 lb with overlap and loss − 1,200 lb on hand: 15,595 lb short, in lots of 0.1 tons; 7.8 tons to order × ($780 + $16 freight) = $6,209",
  ]);
  expect(allUsdText(order)).toEqual({ usd: "$6,209", unpriced: "", unpricedInWords: "" });
});

test("what is placed and what is left of the stock are told in the steps", () => {
  const held = boughtOf(
    [
      {
        date: "2027-01-20",
        kind: "booked",
        product: "0-0-60",
        supplier: "Depot",
        tons: 2,
        pricePerTon: 400,
      },
    ],
    { usdPerTon: null, freightOf: () => 0 },
  );
  const order = orderTotals(
    [map("11-52-0", 16_795), map("0-0-60", 1_000)],
    [
      { ...terms, product: "11-52-0", pricePerTon: 780, placedLb: 14_200 },
      { ...terms, product: "0-0-60", pricePerTon: 400, onHandLb: 1_300, bought: held },
    ],
  );
  expect(orderSteps(order)).toEqual([
    "11-52-0: 14,200 lb placed by the ledger, 16,795 lb of the maps still to place; 16,795 lb with overlap and loss − 0 lb on hand: 16,795 lb short, in lots of 0.1 tons; 8.4 tons to order × ($780 + $16 freight) = $6,686",
    "0-0-60: 1,000 lb with overlap and loss − 1,300 lb on hand − 4,000 lb left of what is bought: nothing is short; 2.0 tons bought from Depot × $400 = $800; of the 4,300 lb left over 300 lb were on hand and are in no cost",
  ]);
  expect(placedWords(order)).toEqual([
    "11-52-0: 14,200 lb are placed by the ledger, 16,795 lb of the maps are still to place.",
  ]);
  expect(leftOnHandWords(order)).toEqual([
    "0-0-60: of the 4,300 lb left over 300 lb were on hand and are in no cost.",
  ]);
  // 4,300 lb at $400 a ton are $860, more than the $800 paid; 300 of them are the stock's.
  const words = orderWords(order);
  expect(words.join("\n")).toContain("still to place, lb");
  expect(words).toContain(
    "All: $7,486, of it $802 left over for next year; besides, $60 of the stock on hand is left over",
  );
});

test("what stands booked can be subtracted: plan now less bought is up or down", () => {
  const made = orderWords({
    ...orderTotals([], []),
    book: orderStand(
      [
        {
          date: "2027-01-12",
          kind: "booked",
          product: "0-0-60",
          supplier: "Mill",
          tons: 9,
          pricePerTon: 470,
        },
        { date: "2027-03-01", kind: "delivered", product: "0-0-60", supplier: "River", tons: 2.5 },
      ],
      [{ product: "0-0-60", supplier: "Mill", tons: 19.6 }],
    ),
  });
  const rows = made.map((line) => line.trim().split(/\s{2,}/));
  expect(rows).toContainEqual([
    "booked",
    "supplier",
    "tons",
    "$/ton",
    "delivered",
    "due",
    "bought",
    "plan now",
    "up or down",
  ]);
  expect(rows).toContainEqual(["0-0-60", "Mill, River", "9.0", "470", "2.5", "9.0", "11.5", "19.6", "+8.1"]);
});

test("each supplier with its tons; what is not needed, and what has no price", () => {
  const line = (product: string, supplier: string, tons: number, pricePerTon: number): OrderEntry => ({
    date: "2027-01-20",
    kind: "booked",
    product,
    supplier,
    tons,
    pricePerTon,
  });
  const termOf = (product: string, usdPerTon: number | null, ...book: OrderEntry[]): OrderTerms => ({
    ...terms,
    product,
    pricePerTon: usdPerTon ?? 0,
    isPriced: usdPerTon !== null,
    lotTons: 1,
    bought: boughtOf(book, { usdPerTon, freightOf: (supplier) => (supplier === "Depot" ? 22 : 16) }),
  });
  const order = orderTotals(
    [map("11-52-0", 26_000), map("mix", 4_000), map("18-46-0", 22_000)],
    [
      termOf("18-46-0", null, line("18-46-0", "Depot", 8, 700)),
      termOf("11-52-0", 812.5, line("11-52-0", "Depot", 8, 781), line("11-52-0", "elevator", 3, 790)),
      termOf("mix", null),
      termOf("0-0-62", null, line("0-0-62", "Depot", 9, 455)),
    ],
  );
  expect(orderSteps(order)).toEqual([
    // 26,000 - 22,000 = 4,000 lb = 2 tons; 2 x 828.50 = 1,657; 8 x 803 = 6,424; 3 x 806 = 2,418.
    "11-52-0: 26,000 lb with overlap and loss − 0 lb on hand − 22,000 lb left of what is bought: 4,000 lb short, in lots of 1 ton; 2.0 tons to order × ($812.50 + $16 freight) = $1,657; 8.0 tons bought from Depot × ($781 + $22 freight) = $6,424; 3.0 tons bought from elevator × ($790 + $16 freight) = $2,418; together $10,499",
    "mix: 4,000 lb with overlap and loss − 0 lb on hand: 4,000 lb short, in lots of 1 ton; 2.0 tons to order, no price",
    // Each part says for itself what has no price: 8 x 722 of these are known.
    "18-46-0: 22,000 lb with overlap and loss − 0 lb on hand − 16,000 lb left of what is bought: 6,000 lb short, in lots of 1 ton; 3.0 tons to order, no price; 8.0 tons bought from Depot × ($700 + $22 freight) = $5,776",
    "0-0-62: no map takes any; 9.0 tons bought from Depot × ($455 + $22 freight) = $4,293",
  ]);
  expect(order.products.map(suppliersText)).toEqual([
    "Depot 8.0, elevator 5.0",
    "elevator",
    "Depot 8.0, elevator 3.0",
    "Depot",
  ]);
  expect(order.products.map(costText)).toEqual(["$10,499", "–", "$5,776", "$4,293"]);
  // 10,499 + 5,776 + 4,293.
  expect(allUsdText(order)).toEqual({
    usd: "$20,568",
    unpriced: "mix, 3.0 tons of 18-46-0",
    unpricedInWords: "mix, 3.0 tons of 18-46-0, which have no price",
  });
});
