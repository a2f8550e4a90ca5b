import { sum } from "../numeric/index.ts";
import { LB_PER_TON } from "../units/index.ts";
import { meanPrice, pricedTiers } from "./booked-tiers.ts";
import { orderStand } from "./order-book.ts";
import type { OrderEntry } from "./order-entry.ts";

/** What is bought of a product from one supplier. */
export interface BoughtShare {
  readonly supplier: string;
  readonly tons: number;
  /** $ a ton, product alone: the mean of what is booked there; the plan's where nothing was; 0 where not priced. */
  readonly pricePerTon: number;
  readonly freightPerTon: number;
  /** 0 where not priced. */
  readonly cost: number;
  /** False where a ton of it has no price, neither booked nor the plan's. */
  readonly isPriced: boolean;
}

/** What is bought of a product. */
export interface Bought {
  readonly tons: number;
  /** lb of it that are not placed yet. */
  readonly leftLb: number;
  /** Of those suppliers whose tons all have a price. */
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
  const bySupplier = stood.flatMap(({ supplier, boughtTons }): BoughtShare[] => {
    if (boughtTons <= 0) return [];
    const own = entries.filter((one) => one.supplier === supplier);
    const booked = pricedTiers(own);
    const delivered = own.flatMap((one) =>
      one.kind === "delivered" && one.tons > 0 ? [{ tons: one.tons, pricePerTon: one.pricePerTon }] : [],
    );
    const paid = (booked.length > 0 ? booked : delivered).map(({ tons, pricePerTon = usdPerTon }) => ({
      tons,
      pricePerTon: pricePerTon ?? undefined,
    }));
    const isPriced = paid.every((one) => one.pricePerTon !== undefined);
    const pricePerTon = isPriced ? (meanPrice(paid) ?? 0) : 0;
    const freightPerTon = freightOf(supplier);
    const cost = isPriced ? boughtTons * (pricePerTon + freightPerTon) : 0;
    return [{ supplier, tons: boughtTons, pricePerTon, freightPerTon, cost, isPriced }];
  });
  if (bySupplier.length === 0) return null;
  const tons = sum(bySupplier.map((one) => one.tons));
  return {
    tons,
    leftLb: Math.max(0, tons * LB_PER_TON - usedLb),
    cost: sum(bySupplier.map((one) => one.cost)),
    isPriced: bySupplier.every((one) => one.isPriced),
    bySupplier,
  };
}
