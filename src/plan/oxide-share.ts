import { productById } from "../products/index.ts";

/** lb of an oxide in one lb of a product, by its analysis. */
export function oxideShare(product: string, nutrient: "P2O5" | "K2O"): number {
  const { grade } = productById(product);
  return (nutrient === "P2O5" ? grade.p2o5 : grade.k2o) / 100;
}
