import { writeCsv } from "../formats/index.ts";
import type { OrderTotals } from "./order-totals.ts";

/** The order as a table, one line a product. Tons to 0.001, lb and $ to 0.01; the figures themselves are not rounded before. */
export function orderTotalsCsv(totals: OrderTotals): Uint8Array<ArrayBuffer> {
  const cents = (value: number): number => Math.round(value * 100) / 100;
  return writeCsv(
    [
      "supplier",
      "product",
      "net_lb",
      "gross_lb",
      "short_tons",
      "lots",
      "order_tons",
      "left_lb",
      "cost_usd",
      "left_usd",
      "map_low_lb",
      "map_high_lb",
    ],
    totals.products.map(({ supplier, line, lowLb, highLb }) => [
      supplier,
      line.product,
      cents(line.netLb),
      cents(line.grossLb),
      Math.round(line.shortTons * 1_000) / 1_000,
      line.lots,
      line.orderTons,
      cents(line.leftLb),
      cents(line.cost),
      cents(line.leftValue),
      lowLb === null ? null : cents(lowLb),
      highLb === null ? null : cents(highLb),
    ]),
  );
}
