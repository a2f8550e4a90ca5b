import { sum } from "../numeric/index.ts";
import { LB_PER_TON } from "../units/index.ts";
import { type OrderEntry, orderStand } from "./order-book.ts";

/** What is bought of a product from one supplier. */
export interface BoughtShare {
  readonly supplier: string;
  readonly tons: number;
  /** $ a ton, product alone: the mean of what was booked there; the plan's where nothing was. */
  readonly pricePerTon: number;
  readonly freightPerTon: number;
  readonly cost: number;
}

/** What is bought of a product. */
export interface Bought {
  readonly tons: number;
  /** lb of it that are not placed yet. */
  readonly leftLb: number;
  readonly cost: number;
  /** False where a ton of it has no price, neither booked nor the plan's. */
  readonly isPriced: boolean;
  readonly bySupplier: readonly BoughtShare[];
}

/** $ a ton of product not bought yet, null where nobody typed one, and for the way from a supplier. */
export interface PlanPrice {
  readonly usdPerTon: number | null;
  readonly freightOf: (supplier: string) => number;
}

/**
 * What is bought of one product by its lines of the record, and its $, freight in it: tons cost what they were booked at
 * with that supplier, or delivered at where nothing was booked; those without a price the plan's price, those delivered
 * beyond a booking the mean of what that supplier booked. `usedLb` of it are placed. Null where nothing is bought. Throws what `orderStand` throws.
 */
export function boughtOf(
  entries: readonly OrderEntry[],
  { usdPerTon, freightOf }: PlanPrice,
  usedLb = 0,
): Bought | null {
  const stood = orderStand(entries, []).flatMap((one) => one.bySupplier);
  const shares = stood.flatMap(({ supplier, boughtTons }) => {
    if (boughtTons <= 0) return [];
    const own = entries.filter((one) => one.supplier === supplier && one.tons > 0);
    const ofKind = (kind: OrderEntry["kind"]) => own.filter((one) => one.kind === kind);
    const booked = own.some(({ kind }) => kind === "booked") ? ofKind("booked") : ofKind("delivered");
    const tons = sum(booked.map((one) => one.tons));
    const usd = sum(booked.map((one) => one.tons * (one.pricePerTon ?? usdPerTon ?? 0)));
    const pricePerTon = tons === 0 ? (usdPerTon ?? 0) : usd / tons;
    const freightPerTon = freightOf(supplier);
    const isPriced = usdPerTon !== null || (tons > 0 && booked.every((one) => one.pricePerTon !== undefined));
    const cost = boughtTons * (pricePerTon + freightPerTon);
    return [{ share: { supplier, tons: boughtTons, pricePerTon, freightPerTon, cost }, isPriced }];
  });
  if (shares.length === 0) return null;
  const bySupplier = shares.map(({ share }) => share);
  const tons = sum(bySupplier.map((one) => one.tons));
  return {
    tons,
    leftLb: Math.max(0, tons * LB_PER_TON - usedLb),
    cost: sum(bySupplier.map((one) => one.cost)),
    isPriced: shares.every((one) => one.isPriced),
    bySupplier,
  };
}
