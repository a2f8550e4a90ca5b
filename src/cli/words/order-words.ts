import type { OrderStand } from "../../order/index.ts";
import { lbText, textTable } from "../../report/index.ts";
import { numberText, UNKNOWN } from "../../units/index.ts";
import type { OrderResult } from "../calculations/order.ts";

export const usdText = (usd: number): string => `$${numberText(usd, 0)}`;

/** The order, what stands booked, what-if prices, loads by date. A product that `priced` says has no price shows no cost. */
export function orderWords(result: OrderResult, priced: Readonly<Record<string, boolean>> = {}): string[] {
  const hasPrice = (product: string): boolean => priced[product] !== false;
  const lines = textTable([
    ["product", "supplier", "maps, lb", "with overlap and loss", "order, tons", "lots", "left, lb", "cost"],
    ...result.products.map(({ supplier, line }) => [
      line.product,
      supplier,
      lbText(line.netLb),
      lbText(line.grossLb),
      numberText(line.orderTons, 1),
      `${line.lots} of ${line.lotTons}`,
      lbText(line.leftLb),
      hasPrice(line.product) ? usdText(line.cost) : UNKNOWN,
    ]),
  ]);
  if (result.products.some(({ line }) => hasPrice(line.product))) {
    lines.push(`All: ${usdText(result.cost)}, of it ${usdText(result.leftValue)} left over for next year`);
  }
  for (const { line } of result.products) {
    if (line.trimShare !== null && line.lotTons >= 1 && line.trimShare < 0.1) {
      lines.push(`${line.product}: ${numberText(100 * line.trimShare, 2)} % off every rate saves one lot`);
    }
  }
  for (const { line, lowLb, highLb } of result.products) {
    if (lowLb !== null && highLb !== null) {
      lines.push(`${line.product}: the maps' range is ${lbText(lowLb)} to ${lbText(highLb)} lb`);
    }
  }
  if (result.book) {
    lines.push(
      ...textTable([
        ["booked", "supplier", "tons", "$/ton", "delivered", "due", "plan now", "up or down"],
        ...result.book.flatMap((one) => [
          bookedRow(one.product, one.supplier, one, [
            one.plannedTons === null ? UNKNOWN : numberText(one.plannedTons, 1),
            one.changeTons === null ? UNKNOWN : signed(one.changeTons),
          ]),
          ...(one.bySupplier.length < 2
            ? []
            : one.bySupplier.map((of) => bookedRow("  of it", of.supplier, of, ["", ""]))),
        ]),
      ]),
    );
  }
  for (const { product, changeShare, cost } of result.whatIf ?? [])
    lines.push(`${product} at ${signed(100 * changeShare)} %: ${usdText(cost)}`);
  for (const { product, loads } of result.loads ?? []) {
    lines.push(
      `${product}: ${loads.map((load) => `${numberText(load.tons, 1)} tons by ${load.neededOn}`).join("; ") || "no load is needed"}`,
    );
  }
  for (const { product, cutLb, layers } of result.fit ?? []) {
    const kept = layers
      .map(({ layer, keptShare }) => `${layer} ${numberText(100 * keptShare, 1)} %`)
      .join(", ");
    lines.push(`${product}, fitted to what is bought: ${lbText(cutLb)} lb cut; kept: ${kept}`);
  }
  return lines;
}

const bookedRow = (
  product: string,
  supplier: string,
  of: Omit<OrderStand["bySupplier"][number], "supplier">,
  plan: readonly string[],
): string[] => [
  product,
  supplier,
  numberText(of.bookedTons, 1),
  of.bookedPricePerTon === null ? UNKNOWN : numberText(of.bookedPricePerTon, 0),
  numberText(of.deliveredTons, 1),
  numberText(of.dueTons, 1),
  ...plan,
];

export const signed = (value: number, decimals = 1): string =>
  `${value > 0 ? "+" : ""}${numberText(value, decimals)}`;
