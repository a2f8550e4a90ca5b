import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";

/** One line of the dated record; nothing is ever taken out of it. */
export interface OrderEntry {
  /** 2026-02-14. */
  readonly date: string;
  readonly kind: "booked" | "cancelled" | "delivered";
  readonly product: string;
  readonly supplier: string;
  readonly tons: number;
  /** Of a booking. */
  readonly pricePerTon?: number;
  /** Of a delivery. */
  readonly ticket?: string;
}

export interface OrderStand {
  readonly product: string;
  readonly supplier: string;
  readonly bookedTons: number;
  readonly deliveredTons: number;
  /** Booked less delivered, not below 0; and delivered beyond the booking. */
  readonly dueTons: number;
  readonly beyondTons: number;
  /** Mean $ a ton of what was booked with a price; null without. */
  readonly bookedPricePerTon: number | null;
  /** Tons of the plan as it is now, and up (above 0) or down against the booking; null where the plan has no such product. */
  readonly plannedTons: number | null;
  readonly changeTons: number | null;
}

/**
 * Where the order stands by product and supplier, by the record and by the plan of today. A product of the plan without a
 * booking comes with its whole tons as change. Throws `number-not-usable`.
 */
export function orderStand(
  entries: readonly OrderEntry[],
  planned: readonly { readonly product: string; readonly supplier: string; readonly tons: number }[],
): OrderStand[] {
  const key = (one: { readonly product: string; readonly supplier: string }): string =>
    `${one.supplier}\n${one.product}`;
  for (const entry of entries) requireNumber(`tons of ${entry.date} ${entry.product}`, entry.tons);
  const known = new Map([...entries, ...planned].map((one) => [key(one), one]));
  return [...known.values()].map(({ product, supplier }) => {
    const own = entries.filter((entry) => key(entry) === key({ product, supplier }));
    const tons = (kind: OrderEntry["kind"]): number =>
      sum(own.filter((entry) => entry.kind === kind).map((entry) => entry.tons));
    const bookedTons = tons("booked") - tons("cancelled");
    const deliveredTons = tons("delivered");
    const priced = own.filter((entry) => entry.kind === "booked" && entry.pricePerTon !== undefined);
    const pricedTons = sum(priced.map((entry) => entry.tons));
    const wanted = planned.filter((one) => key(one) === key({ product, supplier }));
    const plannedTons = wanted.length === 0 ? null : sum(wanted.map((one) => one.tons));
    return {
      product,
      supplier,
      bookedTons,
      deliveredTons,
      dueTons: Math.max(0, bookedTons - deliveredTons),
      beyondTons: Math.max(0, deliveredTons - bookedTons),
      bookedPricePerTon:
        pricedTons === 0 ? null : sum(priced.map((entry) => entry.tons * entry.pricePerTon!)) / pricedTons,
      plannedTons,
      changeTons: plannedTons === null ? null : plannedTons - bookedTons,
    };
  });
}
