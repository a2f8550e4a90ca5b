import type { Notice } from "../errors/index.ts";
import { splitByCeiling } from "../split/index.ts";
import type { PlanBin, PlanSplit } from "./document-types.ts";
import { oxideShare } from "./oxide-share.ts";
import type { FieldGrid, NeedMap, ProductRates, Split } from "./result-types.ts";

/** lb oxide/ac over the cells that the products are to bring. */
type OxideRates = Pick<NeedMap, "p2o5LbPerAc" | "k2oLbPerAc">;

/** Which oxide each product is there to bring; its nitrogen comes along. */
export const bringsOxide = (product: string): "P2O5" | "K2O" =>
  oxideShare(product, "P2O5") > 0 ? "P2O5" : "K2O";

/**
 * What of each product goes in the strip and what waits for the spreader, cell by cell, under the plan's cap.
 * The products are those in the rig's bins, 11-52-0 first. `stripExcluded` is the share of each cell that the strip is
 * kept off.
 */
export function splitField(
  split: PlanSplit,
  bins: readonly PlanBin[],
  cells: FieldGrid,
  wanted: OxideRates,
  stripExcluded: Float64Array,
): Split {
  const ordered = bins.toSorted((a, b) => Number(b.product === "11-52-0") - Number(a.product === "11-52-0"));
  const full = ordered.map(({ product }) => {
    const oxide = bringsOxide(product);
    const share = oxideShare(product, oxide);
    return (oxide === "P2O5" ? wanted.p2o5LbPerAc : wanted.k2oLbPerAc).map((lbPerAc) => lbPerAc / share);
  });
  const shares = splitByCeiling({
    fullLbPerAc: full.map((rates) => rates.map((rate, cell) => rate * (1 - stripExcluded[cell]!))),
    areaM2: cells.areaM2,
    capLbPerAc: split.capLbPerAc,
    basis: split.capBasis,
    order: split.within === "alike" ? "alike" : "first-product-first",
  });
  const products = ordered.map(
    (bin, i): ProductRates => ({
      product: bin.product,
      bin: bin.id,
      full: full[i]!,
      strip: shares.stripLbPerAc[i]!,
      rest: full[i]!.map((rate, cell) => rate - shares.stripLbPerAc[i]![cell]!),
    }),
  );
  const ceiling = shares.ceilingLbPerAc;
  return {
    ceilingLbPerAc: Number.isFinite(ceiling) ? ceiling : null,
    products,
    notices: withoutProduct(products),
  };
}

function withoutProduct(products: readonly ProductRates[]): Notice[] {
  const missing = (["P2O5", "K2O"] as const).filter((oxide) =>
    products.every((one) => bringsOxide(one.product) !== oxide),
  );
  return missing.map((oxide) => ({
    code: "oxide-without-product",
    message: `No bin holds a product that brings ${oxide}: all of its need is short.`,
    where: "rig.bins",
  }));
}
