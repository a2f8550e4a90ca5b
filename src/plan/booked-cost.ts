import { sum } from "../numeric/index.ts";
import { type OrderEntry, type OrderStand, type OrderTotals, orderStand } from "../order/index.ts";

/** What a product costs where some of it is booked. */
export interface BookedCost {
  readonly cost: number;
  /** Tons of the plan that are not booked yet. */
  readonly toOrderTons: number;
}

/**
 * $ of a product, freight in it: booked tons at the price they were booked at, those booked without one and the rest of the
 * plan's tons at the plan's. What is booked beyond the plan is paid too. `plannedTons`: of the whole season.
 */
export function bookedCost(
  book: readonly OrderEntry[],
  plannedTons: number,
  usdPerTon: number,
  freightUsdPerTon: number,
): BookedCost {
  const [stand] = orderStand(book, []);
  if (stand === undefined)
    return { cost: plannedTons * (usdPerTon + freightUsdPerTon), toOrderTons: plannedTons };
  const bookedTons = Math.max(0, stand.bookedTons);
  const toOrderTons = Math.max(0, plannedTons - bookedTons);
  const bought = book.filter(({ kind }) => kind === "booked");
  const usd = sum(bought.map(({ tons, pricePerTon }) => tons * (pricePerTon ?? usdPerTon)));
  const tons = sum(bought.map((one) => one.tons));
  // What was cancelled leaves at the mean of what was booked.
  const bookedUsd = tons === 0 ? 0 : (usd * bookedTons) / tons;
  return {
    cost: bookedUsd + toOrderTons * usdPerTon + (bookedTons + toOrderTons) * freightUsdPerTon,
    toOrderTons,
  };
}

/** The order with products that were booked at a price at that; their tons and $ by supplier, what is still to order at the plan's. */
export function withBookedCost(
  made: OrderTotals,
  costs: Readonly<Partial<Record<string, BookedCost>>>,
  book: readonly OrderStand[],
): OrderTotals {
  const products = made.products.map((one) => {
    const known = costs[one.line.product];
    return known === undefined ? one : { ...one, line: { ...one.line, cost: known.cost } };
  });
  const shares = products.flatMap(({ supplier, line }) => {
    const stand = book.find(({ product }) => product === line.product);
    const bookedTons = Math.max(0, stand?.bookedTons ?? 0);
    const rest = costs[line.product]?.toOrderTons;
    if (stand === undefined || rest === undefined || bookedTons === 0)
      return [{ supplier, tons: line.orderTons, cost: line.cost }];
    const all = bookedTons + rest;
    return [
      ...stand.bySupplier.map((one) => ({ supplier: one.supplier, tons: one.bookedTons })),
      { supplier, tons: rest },
    ].map((one) => ({ ...one, cost: (line.cost * one.tons) / all }));
  });
  const suppliers = [...new Set(shares.map(({ supplier }) => supplier))].map((supplier) => {
    const own = shares.filter((one) => one.supplier === supplier);
    return { supplier, tons: sum(own.map((one) => one.tons)), cost: sum(own.map((one) => one.cost)) };
  });
  return { ...made, products, suppliers, cost: sum(products.map(({ line }) => line.cost)) };
}
