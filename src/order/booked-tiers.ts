import { sum } from "../numeric/index.ts";
import type { OrderEntry } from "./order-entry.ts";

/** Tons that are booked at one price, as one line of the record has them; no price where none was typed. */
export interface BookedTier {
  readonly tons: number;
  readonly pricePerTon: number | undefined;
}

export interface BookedTiers {
  /** What is left of each booking after what was cancelled, those with nothing left too. */
  readonly tiers: readonly BookedTier[];
  /** Less what was cancelled. */
  readonly bookedTons: number;
  /** Less what was taken back; may be below 0. */
  readonly deliveredTons: number;
  /** Cancelled beyond what was booked and not yet delivered that day: does not count. */
  readonly overCancelledTons: number;
  /** Cancelled lines with a price at which so much is not booked: it was taken off all bookings alike. */
  readonly unmatched: readonly OrderEntry[];
}

/** $ a ton that print alike. */
export const SAME_USD = 0.005;
/** Tons that are roundings of sums. */
const NO_TONS = 1e-9;

/**
 * The lines of one product and supplier by day: a cancelled line takes off what is booked and not delivered by then, of the
 * bookings at its price where it has one and they are that much, otherwise of all alike, so that their mean stays.
 */
export function bookedTiers(own: readonly OrderEntry[]): BookedTiers {
  const tiers: { tons: number; readonly pricePerTon: number | undefined }[] = [];
  const unmatched: OrderEntry[] = [];
  let [bookedTons, deliveredTons, overCancelledTons] = [0, 0, 0];
  const take = (from: typeof tiers, tons: number): void => {
    const all = sum(from.map((one) => one.tons));
    for (const tier of from) tier.tons *= all === 0 ? 0 : Math.max(0, 1 - tons / all);
  };
  for (const entry of own.toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))) {
    const { kind, tons, pricePerTon } = entry;
    if (kind === "booked") {
      tiers.push({ tons, pricePerTon });
      bookedTons += tons;
    } else if (kind === "delivered") deliveredTons += tons;
    else {
      const open = Math.max(0, bookedTons - Math.max(0, deliveredTons));
      const off = Math.min(tons, open);
      bookedTons -= off;
      overCancelledTons += tons - off;
      const at = pricePerTon === undefined ? tiers : tiers.filter((one) => isAt(one, pricePerTon));
      const isEnough = sum(at.map((one) => one.tons)) >= off - NO_TONS;
      if (!isEnough) unmatched.push(entry);
      take(isEnough ? at : tiers, off);
    }
  }
  return { tiers, bookedTons, deliveredTons, overCancelledTons, unmatched };
}

const isAt = (tier: BookedTier, usd: number): boolean =>
  tier.pricePerTon !== undefined && Math.abs(tier.pricePerTon - usd) < SAME_USD;

/**
 * The bookings whose mean is the price of what is bought: those with something left, or where all was cancelled and some
 * delivered all the same, as they were booked; none where that came at a price of its own.
 */
export function pricedTiers(own: readonly OrderEntry[]): readonly BookedTier[] {
  const left = bookedTiers(own).tiers.filter(({ tons }) => tons > NO_TONS);
  if (left.length > 0) return left;
  if (own.some((one) => one.kind === "delivered" && one.tons > 0 && one.pricePerTon !== undefined)) return [];
  return own.flatMap((one) =>
    one.kind === "booked" && one.tons > 0 ? [{ tons: one.tons, pricePerTon: one.pricePerTon }] : [],
  );
}

/** Mean $ a ton of those with a price; null where none has one. */
export function meanPrice(tiers: readonly BookedTier[]): number | null {
  const priced = tiers.filter(({ pricePerTon }) => pricePerTon !== undefined);
  const tons = sum(priced.map((one) => one.tons));
  // What is left of bookings after a share was cancelled is a rounding off: the mean of prices typed is not to show it.
  return tons === 0
    ? null
    : Number((sum(priced.map((one) => one.tons * one.pricePerTon!)) / tons).toPrecision(12));
}
