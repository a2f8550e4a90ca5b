import { InputError } from "../errors/index.ts";
import type { Grade, Product } from "./product.ts";
import { productById } from "./product-list.ts";

/** A product and its rate in every cell. */
export interface RatedProduct {
  readonly product: Product;
  /** lb product/ac in cell order. */
  readonly lbPerAc: Float64Array;
}

/**
 * Product that brings a need, one product a nutrient: P2O5 from the first, K2O from the second, nothing else
 * counted as a source. lb oxide/ac in, lb product/ac out, cell by cell; NaN stays NaN.
 * Throws `product-without-nutrient` when a product has none of what it is meant to bring.
 */
export function productRates(
  p2o5LbPerAc: Float64Array,
  k2oLbPerAc: Float64Array,
  sources: { readonly p2o5: Product; readonly k2o: Product } = {
    p2o5: productById("11-52-0"),
    k2o: productById("0-0-60"),
  },
): readonly [RatedProduct, RatedProduct] {
  if (p2o5LbPerAc.length !== k2oLbPerAc.length) {
    throw new Error(`${p2o5LbPerAc.length} P2O5 needs for ${k2oLbPerAc.length} K2O needs`);
  }
  return [
    { product: sources.p2o5, lbPerAc: productRate(p2o5LbPerAc, sources.p2o5, "P2O5") },
    { product: sources.k2o, lbPerAc: productRate(k2oLbPerAc, sources.k2o, "K2O") },
  ];
}

/** lb product/ac that brings lb oxide/ac, cell by cell; NaN stays NaN. Throws `product-without-nutrient`. */
export function productRate(
  oxideLbPerAc: Float64Array,
  product: Product,
  oxide: "P2O5" | "K2O",
): Float64Array<ArrayBuffer> {
  const share = (oxide === "P2O5" ? product.grade.p2o5 : product.grade.k2o) / 100;
  if (!(share > 0)) {
    throw new InputError(
      "product-without-nutrient",
      `${product.id} has no ${oxide}`,
      `Choose a product that brings ${oxide}.`,
    );
  }
  const productLbPerAc = new Float64Array(oxideLbPerAc.length);
  for (let i = 0; i < productLbPerAc.length; i++) productLbPerAc[i] = oxideLbPerAc[i]! / share;
  return productLbPerAc;
}

/** lb of a nutrient per acre that comes with product rates, cell by cell; an empty list gives no cells. */
export function nutrientAlong(products: readonly RatedProduct[], nutrient: keyof Grade): Float64Array {
  const total = new Float64Array(products[0]?.lbPerAc.length ?? 0);
  for (const { product, lbPerAc } of products) {
    if (lbPerAc.length !== total.length) throw new Error("product maps of different lengths");
    const share = product.grade[nutrient] / 100;
    for (let i = 0; i < total.length; i++) total[i] = total[i]! + lbPerAc[i]! * share;
  }
  return total;
}
