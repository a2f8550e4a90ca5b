import type { BoughtShare, OrderLine, OrderTotals, ProductOrder } from "../order/index.ts";
import { numberText, roundTo, UNKNOWN } from "../units/index.ts";
import { lbText, usdText } from "./numbers.ts";

/** Tons as they are bought: to a tenth, to a hundredth where a tenth is not all of it. */
export const boughtTonsText = (tons: number): string =>
  numberText(tons, Math.abs(tons - roundTo(tons, 1)) < 1e-9 ? 1 : 2);

const priceText = (usd: number): string => `$${numberText(usd, Number.isInteger(usd) ? 0 : 2)}`;

function perTon(pricePerTon: number, freightPerTon: number): string {
  if (freightPerTon === 0) return priceText(pricePerTon);
  return `(${priceText(pricePerTon)} + ${priceText(freightPerTon)} freight)`;
}

/** Who a product is bought from: with tons where several sell it, bought and still to order. */
export function suppliersText({ supplier, suppliers }: ProductOrder): string {
  const [first, ...others] = suppliers;
  if (first === undefined) return supplier;
  if (others.length === 0) return first.supplier;
  return suppliers.map((one) => `${one.supplier} ${boughtTonsText(one.tons)}`).join(", ");
}

/** From pounds to dollars in one line a product, so that each figure can be followed by hand. */
export const orderSteps = ({ products }: OrderTotals): string[] => products.map(stepsOf);

function stepsOf({ line, bought, isPriced, byField }: ProductOrder): string {
  const short = line.toOrderTons > 0;
  const left = line.boughtTons > 0 ? ` − ${lbText(line.boughtLeftLb)} lb left of what is bought` : "";
  const placed =
    line.placedLb > 0
      ? `${lbText(line.placedLb)} lb placed by the ledger, ${lbText(line.netLb)} lb of the maps still to place; `
      : "";
  const sum = `${placed}${lbText(line.grossLb)} lb with overlap and loss − ${lbText(line.onHandLb)} lb on hand${left}`;
  const needed =
    byField.length === 0
      ? "no map takes any"
      : `${sum}: ${short ? `${lbText(line.shortLb)} lb short, in lots of ${line.lotTons === 1 ? "1 ton" : `${line.lotTons} tons`}` : "nothing is short"}`;
  const toOrderUsd = line.toOrderTons * (line.pricePerTon + line.freightPerTon);
  const usdOfOrder = `${perTon(line.pricePerTon, line.freightPerTon)} = ${usdText(toOrderUsd)}`;
  const toOrder = short
    ? [`${boughtTonsText(line.toOrderTons)} tons to order${isPriced ? ` × ${usdOfOrder}` : ", no price"}`]
    : [];
  const shares = bought.map(shareText);
  const together = isPriced && toOrder.length + shares.length > 1 ? [`together ${usdText(line.cost)}`] : [];
  const steps = [needed, ...toOrder, ...shares, ...together, ...leftOnHand(line)];
  return `${line.product}: ${steps.join("; ")}`;
}

/** What is over of the stock cost nothing this season. */
const leftOnHand = (line: OrderLine): string[] =>
  line.leftOnHandLb < 0.5
    ? []
    : [
        `of the ${lbText(line.leftLb)} lb left over ${lbText(line.leftOnHandLb)} lb were on hand and are in no cost`,
      ];

/** Where stock is left over, a sentence a product. */
export const leftOnHandWords = ({ products }: OrderTotals): string[] =>
  products.flatMap(({ line }) => leftOnHand(line).map((words) => `${line.product}: ${words}.`));

/** Where the ledger has pounds placed, a sentence a product: the maps' pounds are more than those of the order. */
export const placedWords = ({ products }: OrderTotals): string[] =>
  products.flatMap(({ line }) =>
    line.placedLb > 0
      ? [
          `${line.product}: ${lbText(line.placedLb)} lb are placed by the ledger, ${lbText(line.netLb)} lb of the maps are still to place.`,
        ]
      : [],
  );

/** Whether the order's pounds are fewer than the maps'. */
export const isPartPlaced = ({ products }: OrderTotals): boolean =>
  products.some(({ line }) => line.placedLb > 0);

const shareText = (one: BoughtShare): string =>
  `${boughtTonsText(one.tons)} tons bought from ${one.supplier}${one.isPriced ? ` × ${perTon(one.pricePerTon, one.freightPerTon)} = ${usdText(one.cost)}` : ", no price"}`;

/** $ of a product's tons that have a price; – where none has one. */
export const costText = ({ isPriced, line }: ProductOrder): string =>
  isPriced || line.cost > 0 ? usdText(line.cost) : UNKNOWN;

/** What of a product has no price: all of it, or so many tons. */
function unpricedText({ line, bought }: ProductOrder): string {
  if (line.cost === 0) return line.product;
  const unpriced = bought.filter((one) => !one.isPriced).map((one) => one.tons);
  return `${boughtTonsText(unpriced.reduce((sum, one) => sum + one, line.toOrderTons))} tons of ${line.product}`;
}

/** $ of all tons that have a price, and what has none: `mix1, mix2`, and with it in words `mix1, mix2, which have no price`; empty where all have one. */
export function allUsdText({ products, cost }: OrderTotals): {
  readonly usd: string;
  readonly unpriced: string;
  readonly unpricedInWords: string;
} {
  // What only lies in stock costs nothing, whatever its price.
  const ordered = products.filter(({ byField, line }) => byField.length > 0 || line.boughtTons > 0);
  const unpriced = ordered.filter((one) => !one.isPriced).map(unpricedText);
  const all = unpriced.join(", ");
  const unpricedInWords =
    unpriced.length === 0 ? "" : `${all}, which ${unpriced.length === 1 ? "has" : "have"} no price`;
  const isNone = unpriced.length === ordered.length && cost === 0;
  return { usd: isNone ? UNKNOWN : usdText(cost), unpriced: all, unpricedInWords };
}
