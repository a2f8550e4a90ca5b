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
  /** lb placed already, which `maps` no longer have; 0 when left out. */
  readonly placedLb?: number;
  /** Bought already: tons, what is left of them to place, and their $ with freight. */
  readonly bought?: { readonly tons: number; readonly leftLb: number; readonly cost: number };
  /** Tons in which it is ordered: `USUAL_LOT_TONS` unless whole loads are wanted. */
  readonly lotTons?: number;
  /** $ per short ton, product and freight. */
  readonly pricePerTon: number;
  readonly freightPerTon?: number;
}

/** Tons in which a product is ordered until others are typed (ours). */
export const USUAL_LOT_TONS = 0.1;

/** Less than that is told as 0 lb short, and nobody buys a lot for it (ours). */
const LEAST_SHORT_LB = 0.5;

export interface OrderLine {
  readonly product: string;
  /** lb placed already, which are in no other figure. */
  readonly placedLb: number;
  /** lb of the maps that are still to place. */
  readonly netLb: number;
  /** What must be at hand: net x (1 + overlap) / (1 - loss). */
  readonly grossLb: number;
  readonly onHandLb: number;
  /** Tons bought, their lb that are not placed yet, their $. */
  readonly boughtTons: number;
  readonly boughtLeftLb: number;
  readonly boughtCost: number;
  /** Gross less what is on hand and what is left of the bought. */
  readonly shortLb: number;
  readonly shortTons: number;
  /** Still to order: whole lots, and their tons. */
  readonly lots: number;
  readonly lotTons: number;
  readonly toOrderTons: number;
  /** $ a ton of what is still to order. */
  readonly pricePerTon: number;
  readonly freightPerTon: number;
  /** Tons that the maps take beyond what is on hand, bought or not, in no lots. */
  readonly plannedTons: number;
  /** Bought and still to order, and $ of both. */
  readonly seasonTons: number;
  readonly cost: number;
  /** lb over when all is done, next year's stock, and $ of it at the mean of the season's tons. */
  readonly leftLb: number;
  readonly leftValue: number;
  /** lb of what is over that were on hand, which is used first: no $ of `cost` went into them. */
  readonly leftOnHandLb: number;
  /** Share every rate would have to give up to save one lot; null when nothing is ordered. */
  readonly trimShare: number | null;
}

const NOTHING = { tons: 0, leftLb: 0, cost: 0 };

/** One product of the order. Throws `number-not-usable`. */
export function orderLine(input: OrderLineInput): OrderLine {
  const {
    product,
    onHandLb,
    placedLb = 0,
    lotTons = USUAL_LOT_TONS,
    pricePerTon,
    freightPerTon = 0,
    bought = NOTHING,
  } = input;
  const overlap = requireNumber("overlapShare", input.overlapShare, { atLeast: 0, atMost: 1 });
  const loss = requireNumber("lossShare", input.lossShare, { atLeast: 0, atMost: 0.5 });
  requireNumber("onHandLb", onHandLb);
  requireNumber("lotTons", lotTons, { above: 0 });
  const price = requireNumber("pricePerTon", pricePerTon) + requireNumber("freightPerTon", freightPerTon);
  const netLb = sum(input.maps.map(({ id, lb }) => requireNumber(`lb of map ${id}`, lb)));
  const grossLb = (netLb * (1 + overlap)) / (1 - loss);
  const atHandLb = onHandLb + bought.leftLb;
  const shortLb = Math.max(0, grossLb - atHandLb);
  const shortTons = shortLb / LB_PER_TON;
  // 12.3 tons in lots of 0.1 are 123 lots, also where the division lands a rounding above.
  const lots = shortLb < LEAST_SHORT_LB ? 0 : Math.ceil((shortTons / lotTons) * (1 - 1e-12));
  const toOrderTons = Number((lots * lotTons).toPrecision(12));
  const seasonTons = Number((bought.tons + toOrderTons).toPrecision(12));
  const cost = bought.cost + toOrderTons * price;
  const leftLb = Math.max(0, toOrderTons * LB_PER_TON + atHandLb - grossLb);
  const oneLess = Math.max(0, (toOrderTons - lotTons) * LB_PER_TON + atHandLb);
  return {
    product,
    placedLb,
    netLb,
    grossLb,
    onHandLb,
    boughtTons: bought.tons,
    boughtLeftLb: bought.leftLb,
    boughtCost: bought.cost,
    shortLb,
    shortTons,
    lots,
    lotTons,
    toOrderTons,
    pricePerTon,
    freightPerTon,
    plannedTons: bought.tons + (Math.max(0, grossLb - onHandLb) - bought.leftLb) / LB_PER_TON,
    seasonTons,
    cost,
    leftLb,
    leftValue: (leftLb / LB_PER_TON) * (seasonTons === 0 ? price : cost / seasonTons),
    leftOnHandLb: Math.max(0, onHandLb - grossLb),
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
