import {
  allUsdText,
  bookedRow,
  boughtTonsText,
  costText,
  isPartPlaced,
  lbText,
  orderSteps,
  suppliersText,
  textTable,
  usdText,
} from "../../report/index.ts";
import { numberText, signedText, UNKNOWN } from "../../units/index.ts";
import type { OrderResult } from "../calculations/order.ts";

/** The order, what stands booked, what-if prices, loads by date. */
export function orderWords(result: OrderResult): string[] {
  const lines = textTable([
    [
      "product",
      "supplier",
      isPartPlaced(result) ? "still to place, lb" : "maps, lb",
      "with overlap and loss",
      "on hand, lb",
      "bought, tons",
      "to order, tons",
      "lots",
      "left, lb",
      "cost",
    ],
    ...result.products.map((one) => [
      one.line.product,
      suppliersText(one),
      lbText(one.line.netLb),
      lbText(one.line.grossLb),
      lbText(one.line.onHandLb),
      boughtTonsText(one.line.boughtTons),
      boughtTonsText(one.line.toOrderTons),
      `${one.line.lots} of ${one.line.lotTons}`,
      lbText(one.line.leftLb),
      costText(one),
    ]),
  ]);
  const { usd, unpricedInWords } = allUsdText(result);
  if (usd !== UNKNOWN) {
    const all = unpricedInWords === "" ? "All" : `All but ${unpricedInWords}`;
    const besides =
      result.leftOnHandValue < 0.5
        ? ""
        : `; besides, ${usdText(result.leftOnHandValue)} of the stock on hand is left over`;
    const ofIt = usdText(result.leftValue - result.leftOnHandValue);
    lines.push(`${all}: ${usd}, of it ${ofIt} left over for next year${besides}`);
  }
  lines.push(...orderSteps(result).map((line) => `  ${line}`));
  for (const { line } of result.products) {
    if (line.trimShare !== null && line.lotTons >= 1 && line.trimShare < 0.1) {
      lines.push(`${line.product}: ${numberText(100 * line.trimShare, 2)} % off every rate saves one lot`);
    }
  }
  for (const { line, lowLb, highLb } of result.products) {
    if (lowLb !== null && highLb !== null) {
      lines.push(
        `${line.product}: the ${line.placedLb > 0 ? "range of what is still to place" : "maps' range"} is ${lbText(lowLb)} to ${lbText(highLb)} lb`,
      );
    }
  }
  if (result.book) {
    lines.push(
      ...textTable([
        ["booked", "supplier", "tons", "$/ton", "delivered", "due", "bought", "plan now", "up or down"],
        ...result.book.flatMap((one) => [
          bookedRow(one.product, one.supplier, one, [
            one.plannedTons === null ? UNKNOWN : numberText(one.plannedTons, 1),
            one.changeTons === null ? UNKNOWN : signedText(one.changeTons, 1),
          ]),
          ...(one.bySupplier.length < 2
            ? []
            : one.bySupplier.map((of) => bookedRow("  of it", of.supplier, of, ["", ""]))),
        ]),
      ]),
    );
  }
  for (const { product, changeShare, cost } of result.whatIf ?? [])
    lines.push(`${product} at ${signedText(100 * changeShare, 1)} %: ${usdText(cost)}`);
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
