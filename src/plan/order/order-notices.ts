import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { OrderTotals } from "../../order/index.ts";
import { LB_PER_TON, numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import { ratioNames } from "../document/field-products.ts";
import { SAME_LB } from "../maps/small-rate.ts";
import type { OrderShares } from "../rig/order-shares.ts";

/**
 * The stock of the plan is that before the season: what was placed is taken out of it, and then out of the purchases. More
 * placed than was ever there cannot be; null where nobody keeps account of stock, or of purchases.
 */
export function stockNotices(
  product: string,
  placedLb: number,
  had: { readonly onHandLb: number | null; readonly deliveredTons: number | null },
): Notice[] {
  const onHandLb = had.onHandLb ?? 0;
  const deliveredLb = (had.deliveredTons ?? 0) * LB_PER_TON;
  const lb = (value: number): string => numberText(value, 0);
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message: `${product}: ${message}`, where: "order" });
  };
  if (placedLb > 0 && onHandLb > 0)
    add(
      "stock-placed",
      `of the ${lb(onHandLb)} lb on hand before the season ${lb(Math.max(0, onHandLb - placedLb))} lb count as left, since ${lb(placedLb)} lb are placed by the ledger`,
    );
  const isKept = had.onHandLb !== null || had.deliveredTons !== null;
  if (isKept && placedLb > onHandLb + deliveredLb + SAME_LB)
    add(
      "placed-beyond-stock",
      `${lb(placedLb)} lb are placed by the ledger and only ${lb(onHandLb + deliveredLb)} lb were there: ${lb(onHandLb)} on hand before the season, ${lb(deliveredLb)} delivered. Enter the deliveries that lack, or correct stock or ledger`,
    );
  return notices;
}

/** Products that lie on the ground by the ledger and that neither map nor booking has: they stand in no line of the order. */
export const placedUnordered = (
  placed: readonly { readonly product: string; readonly placedLb: number }[],
): Notice[] =>
  placed
    .filter(({ placedLb }) => placedLb >= SAME_LB)
    .map(({ product, placedLb }) => ({
      code: "placed-not-in-order",
      message: `${product}: ${numberText(placedLb, 0)} lb (${numberText(placedLb / LB_PER_TON, 1)} tons) are placed by the ledger, and no map of this plan and no booking has any: they stand in no $ of this order. Enter what was bought of it`,
      where: "order",
    }));

/** Suppliers without a line of terms for a product that is bought from them, where another's freight is known: theirs is not. */
export const freightNotices = (
  { products }: OrderTotals,
  terms: NonNullable<NonNullable<Plan["order"]>["terms"]>,
): Notice[] =>
  products.flatMap(({ line, bought }) => {
    const own = terms.filter(({ product }) => product === line.product);
    if (!own.some(({ freightUsdPerTon = 0 }) => freightUsdPerTon > 0)) return [];
    return bought
      .filter(({ supplier, isPriced }) => isPriced && !own.some((one) => one.supplier === supplier))
      .map(({ supplier, tons }) => ({
        code: "no-freight",
        message: `${line.product}: no freight is told for ${supplier}; the ${numberText(tons, 2)} tons bought there count without any (order.terms has it by product and supplier)`,
        where: "order",
      }));
  });

/** What is assumed or left out in an order, and what wants a look before it is sent. */
export function orderNotices(
  made: OrderTotals,
  mapped: readonly string[],
  prices: Readonly<Partial<Record<string, number>>>,
  terms: NonNullable<NonNullable<Plan["order"]>["terms"]>,
  shares: OrderShares,
): Notice[] {
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message, where: "order" });
  };
  const unpriced = made.products.filter(
    ({ line, isPriced }) => !isPriced && prices[line.product] === undefined,
  );
  const without = unpriced.filter(({ line }) => line.cost === 0).map(({ line }) => line.product);
  if (without.length > 0) add("no-price", `no price is typed for ${without.join(", ")}: its $ are left out`);
  for (const { line, bought } of unpriced.filter((one) => one.line.cost > 0)) {
    const { product, toOrderTons, cost } = line;
    const tons = sum(bought.filter((one) => !one.isPriced).map((one) => one.tons)) + toOrderTons;
    add(
      "no-price",
      `no price is typed for ${product}: ${numberText(tons, 2)} tons of it are left out of the $, what is bought at a price counts ($${numberText(cost, 0)})`,
    );
  }
  if (shares.isOverlapAssumed)
    add(
      "overlap-assumed",
      `overlap of ${numberText(100 * shares.overlapShare, 1)} % added, a published mean of planters without section control; type your own`,
    );
  if (shares.isLossAssumed)
    add("loss-assumed", "nothing is added for handling loss: no published figure was found");
  for (const { line } of made.products) {
    if (!mapped.includes(line.product)) continue;
    const own = terms.filter((one) => one.product === line.product);
    const [first, ...others] = new Set(own.map(({ supplier }) => supplier));
    if (others.length > 0 && line.toOrderTons > 0)
      add(
        "several-suppliers",
        `${line.product}: ${others.length + 1} suppliers are typed and none is chosen; what is not bought yet is reckoned from the first, ${first}: put the one you buy from first`,
      );
    if (own.every(({ onHandLb }) => onHandLb === undefined))
      add("no-stock", `nothing is typed of ${line.product} on hand: the order takes none into account`);
    if (line.lotTons >= 1 && line.trimShare !== null && line.trimShare > 0 && line.trimShare < 0.05) {
      const perLot = `${(100 * line.trimShare).toFixed(2)} %`;
      add(
        "save-a-load",
        `${line.product}: ${perLot} off every rate saves one lot of ${line.lotTons} ${line.lotTons === 1 ? "ton" : "tons"} (${(line.leftLb / LB_PER_TON).toFixed(1)} tons are left over otherwise)`,
      );
    }
  }
  return notices;
}

/**
 * Blends whose ratio the plan finds and of which pounds are there already, `thereLb`: mixed by an earlier ratio they have another
 * analysis than the maps reckon with.
 */
export const mixedBefore = ({ blends = [] }: Plan, thereLb: (product: string) => number): Notice[] =>
  blends
    .filter(({ fit }) => fit !== "typed")
    .flatMap((blend) => ratioNames(blend))
    .filter((product) => thereLb(product) >= SAME_LB)
    .map((product) => ({
      code: "blend-mixed-before",
      message: `${product}: ${numberText(thereLb(product), 0)} lb on hand or delivered count as it is mixed in the plan now, and its ratio is found anew with each change of the plan; where they were mixed by another, hold that one: "fit": "typed" with its shares`,
      where: "order",
    }));
