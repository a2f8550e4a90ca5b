import { writeCsv } from "../formats/index.ts";
import type { OrderStand } from "./order-book.ts";
import type { OrderTotals, ProductOrder } from "./order-totals.ts";

/**
 * The order as a table, one line a product: `cost_usd` is `bought_usd` and `to_order_tons` times price and freight; the
 * season's tons are those bought and those still to order. Tons to 0.001, lb and $ to 0.01; the figures themselves are not rounded
 * before. `short_tons` are `gross_lb` less `on_hand_lb` and `bought_left_lb`; what was placed came out of those two before. $ of
 * tons without a price are left empty, and in no cost. `stands`: what is booked and delivered.
 */
export function orderTotalsCsv(
  totals: OrderTotals,
  stands: readonly OrderStand[] = [],
): Uint8Array<ArrayBuffer> {
  const cents = (value: number): number => Math.round(value * 100) / 100;
  const mils = (value: number): number => Math.round(value * 1_000) / 1_000;
  return writeCsv(
    [
      "supplier",
      "product",
      "placed_lb",
      "net_lb",
      "gross_lb",
      "on_hand_lb",
      "booked_tons",
      "delivered_tons",
      "due_tons",
      "bought_tons",
      "bought_left_lb",
      "short_tons",
      "lots",
      "lot_tons",
      "to_order_tons",
      "season_tons",
      "price_usd_per_ton",
      "freight_usd_per_ton",
      "bought_usd",
      "cost_usd",
      "left_lb",
      "left_usd",
      "left_on_hand_lb",
      "map_low_lb",
      "map_high_lb",
    ],
    totals.products.map((one) => {
      const { line, bought, isPriced, lowLb, highLb } = one;
      const stand = stands.find(({ product }) => product === line.product);
      const usd = (value: number): number | null => (isPriced ? cents(value) : null);
      return [
        suppliersOf(one),
        line.product,
        cents(line.placedLb),
        cents(line.netLb),
        cents(line.grossLb),
        cents(line.onHandLb),
        mils(stand?.bookedTons ?? 0),
        mils(stand?.deliveredTons ?? 0),
        mils(stand?.dueTons ?? 0),
        mils(line.boughtTons),
        cents(line.boughtLeftLb),
        mils(line.shortTons),
        line.lots,
        line.lotTons,
        line.toOrderTons,
        mils(line.seasonTons),
        line.pricePerTon === 0 && line.toOrderTons === 0 ? null : usd(line.pricePerTon),
        cents(line.freightPerTon),
        bought.every((share) => share.isPriced) && (isPriced || line.boughtTons > 0)
          ? cents(line.boughtCost)
          : null,
        isPriced || line.cost > 0 ? cents(line.cost) : null,
        cents(line.leftLb),
        usd(line.leftValue),
        cents(line.leftOnHandLb),
        lowLb === null ? null : cents(lowLb),
        highLb === null ? null : cents(highLb),
      ];
    }),
  );

  /** One name, or each supplier with the season's tons from there. */
  function suppliersOf({ supplier, suppliers }: ProductOrder): string {
    const [first, ...others] = suppliers;
    if (first === undefined || others.length === 0) return first?.supplier ?? supplier;
    return suppliers.map((one) => `${one.supplier} ${mils(one.tons)}`).join("; ");
  }
}
