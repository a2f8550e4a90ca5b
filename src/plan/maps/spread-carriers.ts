import { type Product, productsForNeed } from "../../products/index.ts";
import { bringsOf } from "../document/field-products.ts";

/** What the spreader brings each oxide by: the first of one oxide alone, and products of both where there are any. */
export function spreadCarriers(products: readonly Product[]): Product[] {
  const first = (brings: string) => products.filter((product) => bringsOf(product) === brings).slice(0, 1);
  return [...first("P2O5"), ...first("K2O"), ...products.filter((product) => bringsOf(product) === "both")];
}

/** lb product/ac for what is left of both oxides, in the order of the carriers. */
export function spreadRates(carriers: readonly Product[], p2o5: number, k2o: number): readonly number[] {
  if (carriers.every((product) => bringsOf(product) !== "both")) {
    return carriers.map(({ grade }) =>
      grade.p2o5 > 0 ? p2o5 / (grade.p2o5 / 100) : k2o / (grade.k2o / 100),
    );
  }
  if (p2o5 === 0 && k2o === 0) return carriers.map(() => 0);
  return productsForNeed(
    carriers.map((product) => product.grade),
    { p2o5, k2o },
  ).lbPerAc;
}
