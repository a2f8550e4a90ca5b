import {
  bringsOf,
  type Oxide,
  ownProducts,
  oxideIn,
  type Plan,
  type Product,
  partsOf,
  productById,
  spreadCarriers,
  spreadIds,
  tons,
  typedPrices,
} from "#core";

/** The first product in the bins, or in their blend, that brings an oxide alone. */
function carrierOf(of: Plan, oxide: Oxide): Product | undefined {
  const own = ownProducts(of);
  return of.rig.bins
    .flatMap(({ product }) => partsOf(of, product))
    .map((id) => productById(id, own))
    .find((product) => bringsOf(product) === oxide);
}

/** Where no bin brings it alone. */
const USUAL: Readonly<Record<Oxide, string>> = { P2O5: "11-52-0", K2O: "0-0-60" };

interface ForOxide {
  readonly product: string;
  readonly lbProduct: number;
  /** NaN without a price. */
  readonly usd: number;
}

/** Product and dollars for pounds of an oxide. */
export function productFor(of: Plan, oxide: Oxide, lb: number): ForOxide {
  const product = carrierOf(of, oxide) ?? productById(USUAL[oxide]);
  const lbProduct = lb / oxideIn(product.grade, oxide);
  const price = typedPrices(of)[product.id];
  return { product: product.id, lbProduct, usd: price === undefined ? Number.NaN : tons(lbProduct) * price };
}

/** A budget in dollars can be spent: all that bins and spreader bring has a price. */
export const canSpendDollars = (of: Plan): boolean =>
  [...of.rig.bins.flatMap(({ product }) => partsOf(of, product)), ...spreadProducts(of)].every(
    (id) => of.pricesUsdPerTon?.[id] !== undefined,
  );

/** What the spreader would bring each oxide by. */
const spreadProducts = (of: Plan): string[] =>
  spreadCarriers(spreadIds(of).map((id) => productById(id, ownProducts(of)))).map(({ id }) => id);
