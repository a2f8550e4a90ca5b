import type { Notice } from "../../errors/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";

/** Share of a product's pounds below which what the spreader's least leaves out is not worth a line (ours). */
const LEAST_SHARE = 0.01;

/** What the lowest rate of the spreader leaves out, lb of product, in the order given; empty where it leaves hardly any. */
export function spreaderLeastNotices(
  { spreader }: Plan,
  { id, name }: PlanField,
  products: readonly {
    readonly product: { readonly id: string };
    readonly belowLb: number;
    readonly spreadLb: number;
  }[],
): Notice[] {
  const { leastLbPerAc } = spreader;
  const told = products.filter(({ belowLb, spreadLb }) => belowLb > LEAST_SHARE * (belowLb + spreadLb));
  if (leastLbPerAc === undefined || told.length === 0) return [];
  const left = told
    .map(({ product, belowLb }) => `${numberText(belowLb, 0)} lb of ${product.id}`)
    .join(" and ");
  const message = `${name}: the spreader spreads ${numberText(leastLbPerAc, Number.isInteger(leastLbPerAc) ? 0 : 1)} lb/ac at least, all products together: where less is left to it ${left} are not spread; the balance has them as shortage`;
  return [{ code: "spreader-least", message, where: id }];
}
