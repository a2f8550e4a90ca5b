import { InputError } from "../../errors/index.ts";
import type { Plan } from "../document/document-types.ts";
import { binProducts, inBinOf } from "../document/field-products.ts";
import type { FieldResult } from "../results/result-types.ts";
import { READ_BY_BUILD_BEFORE } from "../stands/product-put-back.ts";

/**
 * Logs or pounds by the products of a field's strip maps: what is said to be of a blend with several ratios is of the field's own.
 * `beside`: what else is given, as the pounds of a log. Throws `no-strip-map` for any other, `product-of-log` where two names are of one.
 */
export function givenOfField<T extends { readonly product: string }>(
  plan: Plan,
  { field, laid }: FieldResult,
  given: readonly T[],
  beside: readonly { readonly product: string }[] = [],
): T[] {
  const inBins = plan.rig.bins.map(({ id, product }) => ({ product, own: inBinOf(laid, id) }));
  const ownOf = (of: string) => inBins.find(({ product, own }) => [product, own].includes(of))?.own;
  return given.map((one) => {
    const own = ownOf(one.product);
    const twice = [...given, ...beside].find(
      (other) => other.product !== one.product && ownOf(other.product) === own,
    );
    if (own !== undefined && twice !== undefined)
      throw new InputError(
        "product-of-log",
        `in ${field.name} ${one.product} and ${twice.product} are one product`,
        `Give both as ${own}.`,
      );
    if (own !== undefined) return { ...one, product: own };
    const names = [...new Set(inBins.map((bin) => bin.own))].join(", ");
    const isRatio = binProducts(plan).includes(one.product);
    throw new InputError(
      "no-strip-map",
      isRatio
        ? `${field.name} gets ${names} in the strip, not ${one.product}`
        : `the plan's rig has no bin with ${one.product}`,
      isRatio
        ? `A blend's ratios are found anew with each change of the plan. ${READ_BY_BUILD_BEFORE}; where it was ${names} that was laid, say so. A log over fields of several ratios is given by the blend's name, or with --field.`
        : `Say which product it is: ${names}.`,
    );
  });
}
