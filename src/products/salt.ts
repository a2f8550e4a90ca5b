import { InputError } from "../errors/index.ts";
import { nutrientAlong, type RatedProduct } from "./product-rates.ts";

/**
 * lb N + K2O + S per acre, cell by cell: the sum that limits on fertilizer near seed are written in (S counted
 * after a Purdue guideline in a soil-laboratory note, second-hand).
 */
export function saltSum(products: readonly RatedProduct[]): Float64Array {
  const potash = nutrientAlong(products, "k2o");
  const sulfur = nutrientAlong(products, "s");
  return nutrientAlong(products, "n").map((nitrogen, i) => nitrogen + potash[i]! + sulfur[i]!);
}

/**
 * Salt index of a blend: the mean of its parts by product weight (Mortvedt, Calculating Salt Index). It ranks
 * blends and does not predict injury. `shares` in any unit. Throws `salt-index-missing`; NaN for no weight.
 */
export function blendSaltIndex(
  parts: readonly { readonly product: RatedProduct["product"]; readonly share: number }[],
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
