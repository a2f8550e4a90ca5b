import { sum } from "../../numeric/index.ts";
import type { Plan } from "./document-types.ts";
import type { SettledBlend } from "./field-products.ts";

/** $ a short ton: typed, or for a blend that of its parts; undefined where one is not known. */
export function priceOf(plan: Plan, product: string, blends: readonly SettledBlend[]): number | undefined {
  const typed = plan.pricesUsdPerTon?.[product];
  const blend = blends.find((one) => one.product.id === product);
  if (typed !== undefined || blend === undefined) return typed;
  const parts = blend.parts.map(
    (part) => (plan.pricesUsdPerTon?.[part.product.id] ?? Number.NaN) * part.share,
  );
  const whole = sum(parts);
  return Number.isNaN(whole) ? undefined : whole;
}
