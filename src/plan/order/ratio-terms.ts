import { oneNameEach } from "../../order/index.ts";
import type { PlanOrderTerms } from "../document/document-season-types.ts";
import type { Plan } from "../document/document-types.ts";
import { ratioNames } from "../document/field-products.ts";

/** Stands for the supplier of a product nobody gave one for. */
export const NO_SUPPLIER = "no supplier typed";

/**
 * The plan's terms, suppliers by one name each. Supplier, freight and lots typed for a blend with several ratios are those of
 * each that has none of its own, as its price is; its stock is not, since nobody can tell which of them lies there.
 */
export function orderTerms({ order, blends = [] }: Plan): PlanOrderTerms[] {
  const terms = oneNameEach(order?.terms ?? []);
  const termsOf = (product: string): PlanOrderTerms[] => terms.filter((one) => one.product === product);
  const ratios = blends.flatMap((blend) => {
    const [first, ...others] = termsOf(blend.id).map(({ onHandLb: _, ...one }) => one);
    if (first === undefined) return [];
    return ratioNames(blend)
      .filter((product) => product !== blend.id)
      .flatMap((product): PlanOrderTerms[] => {
        const own = termsOf(product);
        if (own.some(({ supplier }) => supplier !== NO_SUPPLIER)) {
          // A line of its stock need not say again what that supplier's line of the blend says.
          const ofBlend = (supplier: string) => [first, ...others].find((one) => one.supplier === supplier);
          return own.map((one) => ({ ...ofBlend(one.supplier), ...one }));
        }
        const all = [{ ...first, ...own[0], supplier: first.supplier }, ...others];
        return all.map((one) => ({ ...one, product }));
      });
  });
  const named = new Set(ratios.map(({ product }) => product));
  return [...terms.filter(({ product }) => !named.has(product)), ...ratios];
}
