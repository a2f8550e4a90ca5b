import { sum } from "../numeric/index.ts";
import { type OrderEntry, type OrderTotals, orderStand } from "../order/index.ts";

interface SupplierCost {
  readonly supplier: string;
  readonly tons: number;
  readonly cost: number;
}

/** What a product costs where some of it is bought. */
export interface BookedCost {
  readonly cost: number;
  /** Tons of the plan that are not bought yet. */
  readonly toOrderTons: number;
  /** Tons bought and their $, freight in it, where they were bought; what is still to order is not among them. */
  readonly bySupplier: readonly SupplierCost[];
}

/** $ a ton: of product not bought yet, and for the way from a supplier; null: from where the plan buys. */
export interface PlanPrice {
  readonly usdPerTon: number;
  readonly freightOf: (supplier: string | null) => number;
}

/**
 * $ of a product, freight in it. Tons bought cost what they were booked at with that supplier, those booked without a price and
 * the rest of the plan's tons the plan's price; what is bought beyond the plan is paid too, and what was cancelled or
 * delivered beyond a booking counts at the mean of what that supplier booked. `plannedTons`: of the whole season.
 */
export function bookedCost(
  book: readonly OrderEntry[],
  plannedTons: number,
  { usdPerTon, freightOf }: PlanPrice,
): BookedCost {
  const bySupplier = (orderStand(book, [])[0]?.bySupplier ?? []).map(({ supplier, boughtTons }) => {
    const booked = book.filter((one) => one.kind === "booked" && one.supplier === supplier);
    const tons = sum(booked.map((one) => one.tons));
    const usd = sum(booked.map((one) => one.tons * (one.pricePerTon ?? usdPerTon)));
    const price = tons === 0 ? usdPerTon : usd / tons;
    return { supplier, tons: boughtTons, cost: boughtTons * (price + freightOf(supplier)) };
  });
  const toOrderTons = Math.max(0, plannedTons - sum(bySupplier.map((one) => one.tons)));
  const rest = toOrderTons * (usdPerTon + freightOf(null));
  return { cost: sum(bySupplier.map((one) => one.cost)) + rest, toOrderTons, bySupplier };
}

/** The order with products that were bought at a price at that; their tons and $ by supplier, what is still to order at the plan's. */
export function withBookedCost(
  made: OrderTotals,
  costs: Readonly<Partial<Record<string, BookedCost>>>,
): OrderTotals {
  const products = made.products.map((one) => {
    const known = costs[one.line.product];
    return known === undefined ? one : { ...one, line: { ...one.line, cost: known.cost } };
  });
  const shares = products.flatMap(({ supplier, line }): readonly SupplierCost[] => {
    const known = costs[line.product];
    if (known === undefined) return [{ supplier, tons: line.orderTons, cost: line.cost }];
    const restCost = known.cost - sum(known.bySupplier.map((one) => one.cost));
    return [...known.bySupplier, { supplier, tons: known.toOrderTons, cost: restCost }].filter(
      (one) => one.tons > 0,
    );
  });
  const suppliers = [...new Set(shares.map(({ supplier }) => supplier))].map((supplier) => {
    const own = shares.filter((one) => one.supplier === supplier);
    return { supplier, tons: sum(own.map((one) => one.tons)), cost: sum(own.map((one) => one.cost)) };
  });
  return { ...made, products, suppliers, cost: sum(products.map(({ line }) => line.cost)) };
}
