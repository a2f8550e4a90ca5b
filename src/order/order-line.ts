import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import { LB_PER_TON } from "../units/index.ts";

export interface OrderLineInput {
  readonly product: string;
  /** Unrounded lb of every map that uses the product; they are added first and rounded once. */
  readonly maps: readonly { readonly id: string; readonly lb: number }[];
  /** Share applied twice: headlands, point rows. */
  readonly overlapShare: number;
  /** Share lost in handling; no published figure was found, start at 0. */
  readonly lossShare: number;
  readonly onHandLb: number;
  /** Tons the order is rounded up to: 0.1 unless whole loads are wanted. */
  readonly lotTons?: number;
  /** $ per short ton, product and freight. */
  readonly pricePerTon: number;
  readonly freightPerTon?: number;
}

export interface OrderLine {
  readonly product: string;
  readonly netLb: number;
  /** What must be at hand: net x (1 + overlap) / (1 - loss). */
  readonly grossLb: number;
  readonly shortLb: number;
  readonly shortTons: number;
  /** Whole lots, and tons ordered. */
  readonly lots: number;
  readonly lotTons: number;
  readonly orderTons: number;
  /** lb over when all is done, and $ of it; next year's stock. */
  readonly leftLb: number;
  readonly leftValue: number;
  readonly cost: number;
  /** Share every rate would have to give up to save one lot; null when nothing is ordered. */
  readonly trimShare: number | null;
}

/** One product of the order. Throws `number-not-usable`. */
export function orderLine(input: OrderLineInput): OrderLine {
  const { product, onHandLb, lotTons = 0.1, pricePerTon, freightPerTon = 0 } = input;
  const overlap = requireNumber("overlapShare", input.overlapShare, { atLeast: 0, atMost: 1 });
  const loss = requireNumber("lossShare", input.lossShare, { atLeast: 0, atMost: 0.5 });
  requireNumber("onHandLb", onHandLb);
  requireNumber("lotTons", lotTons, { above: 0 });
  const price = requireNumber("pricePerTon", pricePerTon) + requireNumber("freightPerTon", freightPerTon);
  const netLb = sum(input.maps.map(({ id, lb }) => requireNumber(`lb of map ${id}`, lb)));
  const grossLb = (netLb * (1 + overlap)) / (1 - loss);
  const shortLb = Math.max(0, grossLb - onHandLb);
  const shortTons = shortLb / LB_PER_TON;
  // 12.3 tons in lots of 0.1 are 123 lots, also where the division lands a rounding above.
  const lots = Math.ceil((shortTons / lotTons) * (1 - 1e-12));
  const orderTons = Number((lots * lotTons).toPrecision(12));
  const leftLb = orderTons * LB_PER_TON + onHandLb - grossLb;
  const oneLess = Math.max(0, (orderTons - lotTons) * LB_PER_TON + onHandLb);
  return {
    product,
    netLb,
    grossLb,
    shortLb,
    shortTons,
    lots,
    lotTons,
    orderTons,
    leftLb,
    leftValue: (leftLb / LB_PER_TON) * price,
    cost: orderTons * price,
    trimShare: lots === 0 ? null : 1 - (oneLess * (1 - loss)) / ((1 + overlap) * netLb),
  };
}

/** $ of an order at a changed product price; freight stays. `changeShare` 0.1 = 10 % dearer. */
export const whatIfCost = (
  orderTons: number,
  pricePerTon: number,
  freightPerTon: number,
  changeShare: number,
): number => orderTons * (pricePerTon * (1 + changeShare) + freightPerTon);

/**
 * $ a pound of nutrient from $/ton and percent: price / (20 x percent), since a unit of a ton is 20 lb. Other nutrients of
 * the product are taken off at their own $/lb first (New Mexico State Univ. Guide A-133).
 */
export function nutrientPrice(
  pricePerTon: number,
  percent: number,
  others: readonly { readonly percent: number; readonly pricePerLb: number }[] = [],
): number {
  const rest = sum(others.map((other) => 20 * other.percent * other.pricePerLb));
  return (pricePerTon - rest) / (20 * requireNumber("percent", percent, { above: 0 }));
}
