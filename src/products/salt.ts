import { InputError } from "../errors/index.ts";
import type { Grade, Product } from "./product.ts";

/**
 * Percent of N + K2O + S in a product: the sum that limits on fertilizer near seed are written in (S counted
 * after a Purdue guideline in a soil-laboratory note, second-hand).
 */
export const saltPercent = ({ n, k2o, s }: Pick<Grade, "n" | "k2o" | "s">): number => n + k2o + s;

/**
 * Salt index of a blend: the mean of its parts by product weight (Mortvedt, Calculating Salt Index). It ranks
 * blends and does not predict injury. `shares` in any unit. Throws `salt-index-missing`; NaN for no weight.
 */
export function blendSaltIndex(
  parts: readonly { readonly product: Product; readonly share: number }[],
): number {
  let weight = 0;
  let weighted = 0;
  for (const { product, share } of parts) {
    if (share === 0) continue;
    if (product.saltIndex === undefined) {
      throw new InputError(
        "salt-index-missing",
        `${product.id} has no salt index`,
        "Give one, or leave the salt index of the blend out.",
      );
    }
    weight += share;
    weighted += share * product.saltIndex.value;
  }
  return weighted / weight;
}
