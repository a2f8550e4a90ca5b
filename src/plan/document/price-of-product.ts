import { sum } from "../../numeric/index.ts";
import type { Plan } from "./document-types.ts";
import { ratioNames, type SettledBlend } from "./field-products.ts";

/** $ a short ton as typed, by product; the price of a blend with several ratios is that of each that has none of its own. */
export function typedPrices({
  pricesUsdPerTon = {},
  blends = [],
}: Plan): Readonly<Partial<Record<string, number>>> {
  const ofRatios = blends.flatMap((blend) => {
    const price: number | undefined = pricesUsdPerTon[blend.id];
    return price === undefined ? [] : ratioNames(blend).map((name) => [name, price] as const);
  });
  return { ...Object.fromEntries(ofRatios), ...pricesUsdPerTon };
}

/** $ a short ton: typed, or for a blend that of its parts; undefined where one is not known. */
export function priceOf(plan: Plan, product: string, blends: readonly SettledBlend[]): number | undefined {
  const typed = typedPrices(plan)[product];
  const blend = blends.find((one) => one.product.id === product);
  if (typed !== undefined || blend === undefined) return typed;
  const parts = blend.parts.map(
    (part) => (plan.pricesUsdPerTon?.[part.product.id] ?? Number.NaN) * part.share,
  );
  const whole = sum(parts);
  return Number.isNaN(whole) ? undefined : whole;
}
