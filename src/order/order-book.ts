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

/** What is booked and delivered of a product, of all suppliers or of one. */
interface BookedTons {
  readonly bookedTons: number;
  readonly deliveredTons: number;
  /** Booked less delivered, not below 0; delivered beyond the booking; booked and delivered beyond it. Of all: the sums of the suppliers'. */
  readonly dueTons: number;
  readonly beyondTons: number;
  readonly boughtTons: number;
  /** Mean $ a ton of what was booked with a price; null without. */
  readonly bookedPricePerTon: number | null;
}

export interface OrderStand extends BookedTons {
  readonly product: string;
  /** Where it is booked, else where the plan buys it; several with commas. */
  readonly supplier: string;
  readonly bySupplier: readonly (BookedTons & { readonly supplier: string })[];
  /** Tons of the plan as it is now, and up (above 0) or down against all that is bought; null where the plan has no such product. */
  readonly plannedTons: number | null;
  readonly changeTons: number | null;
}

/**
 * Where the order stands by product, whoever it is bought from, and by supplier, by the record and by the plan of today. A
 * product of the plan without a booking comes with its whole tons as change. Throws `number-not-usable`.
 */
export function orderStand(
  entries: readonly OrderEntry[],
  planned: readonly { readonly product: string; readonly supplier: string; readonly tons: number }[],
): OrderStand[] {
  for (const entry of entries) requireNumber(`tons of ${entry.date} ${entry.product}`, entry.tons);
  const products = [...new Set([...entries, ...planned].map(({ product }) => product))];
  return products.map((product) => {
    const own = entries.filter((entry) => entry.product === product);
    const wanted = planned.filter((one) => one.product === product);
    const known = own.length > 0 ? own : wanted;
    const bySupplier = [...new Set(known.map(({ supplier }) => supplier))].map((supplier) => ({
      supplier,
      ...bookedOf(own.filter((entry) => entry.supplier === supplier)),
    }));
    const plannedTons = wanted.length === 0 ? null : sum(wanted.map((one) => one.tons));
    const all = bookedOf(own);
    const boughtTons = sum(bySupplier.map((one) => one.boughtTons));
    return {
      product,
      supplier: bySupplier.map(({ supplier }) => supplier).join(", "),
      ...all,
      dueTons: sum(bySupplier.map((one) => one.dueTons)),
      beyondTons: sum(bySupplier.map((one) => one.beyondTons)),
      boughtTons,
      bySupplier,
      plannedTons,
      changeTons: plannedTons === null ? null : plannedTons - boughtTons,
    };
  });
}

function bookedOf(own: readonly OrderEntry[]): BookedTons {
  const tons = (kind: OrderEntry["kind"]): number =>
    sum(own.filter((entry) => entry.kind === kind).map((entry) => entry.tons));
  const bookedTons = tons("booked") - tons("cancelled");
  const deliveredTons = tons("delivered");
  const priced = own.filter((entry) => entry.kind === "booked" && entry.pricePerTon !== undefined);
  const pricedTons = sum(priced.map((entry) => entry.tons));
  return {
    bookedTons,
    deliveredTons,
    dueTons: Math.max(0, bookedTons - deliveredTons),
    beyondTons: Math.max(0, deliveredTons - bookedTons),
    boughtTons: Math.max(0, bookedTons, deliveredTons),
    bookedPricePerTon:
      pricedTons === 0 ? null : sum(priced.map((entry) => entry.tons * entry.pricePerTon!)) / pricedTons,
  };
}
