import {
  type BlendWeights,
  blendClass,
  type Product,
  productRate,
  productsForNeed,
} from "../../products/index.ts";
import { LB_PER_TON } from "../../units/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { PlanBlend } from "../document/document-split-types.ts";
import type { Plan } from "../document/document-types.ts";
import { type BinProduct, bringsOf, type FieldProducts, oxideIn } from "../document/field-products.ts";
import type { OxideRates } from "../document/oxide-rates.ts";

/** $ a lb of oxide; 1 for both where one is not known. */
interface OxidePrices {
  readonly P2O5: number;
  readonly K2O: number;
  readonly known: boolean;
}

/** $ a lb of each oxide by the first product of one oxide alone that has a price. */
export function oxidePrices(plan: Plan, products: readonly Product[]): OxidePrices {
  const price = (oxide: Oxide): number => {
    const carrier = products.find(
      (product) => bringsOf(product) === oxide && plan.pricesUsdPerTon?.[product.id] !== undefined,
    );
    return carrier
      ? plan.pricesUsdPerTon![carrier.id]! / LB_PER_TON / oxideIn(carrier.grade, oxide)
      : Number.NaN;
  };
  const [P2O5, K2O] = [price("P2O5"), price("K2O")];
  return P2O5 > 0 && K2O > 0 ? { P2O5, K2O, known: true } : { P2O5: 1, K2O: 1, known: false };
}

/** Worth of too much (the price) and too little (typed, or as much). */
export const misfitWeights = (blend: PlanBlend | undefined, prices: OxidePrices): BlendWeights => ({
  overP2o5: prices.P2O5,
  overK2o: prices.K2O,
  underP2o5: blend?.usdPerLbShort?.P2O5 || prices.P2O5,
  underK2o: blend?.usdPerLbShort?.K2O || prices.K2O,
});

type RatioRate = NonNullable<PlanBlend["rate"]>;

/** How a product of one ratio is rated: as the blend says, by its fit, or no more than either need. */
const ratioRateOf = (blend: PlanBlend | undefined): RatioRate =>
  blend?.rate ?? (blend === undefined || blend.fit === "typed" ? "no-excess" : blend.fit);

/**
 * lb product/ac of each bin that would bring the whole need in the strip. One product an oxide: each its own map. One
 * product of both: by its ratio. Both kinds together: least squares without negatives, exact inside what they can make; a blend
 * with a `rate` of its own by that, where one of its oxides has a bin besides.
 * Flat rates as typed. A product whose oxide another bin brings already gets nothing.
 */
export function fullRates(
  laid: FieldProducts,
  wanted: OxideRates,
  prices: OxidePrices,
  p2o5Factor: (cell: number) => number,
): Float64Array<ArrayBuffer>[] {
  const { bins } = laid;
  const cells = wanted.p2o5LbPerAc.length;
  const p2o5 = new Float64Array(cells);
  for (let i = 0; i < cells; i++) p2o5[i] = wanted.p2o5LbPerAc[i]! * p2o5Factor(i);
  const k2o = wanted.k2oLbPerAc;
  const full = bins.map(({ bin }) =>
    bin.flatLbPerAc === undefined
      ? new Float64Array(cells)
      : p2o5.map((rate) => (Number.isNaN(rate) ? rate : bin.flatLbPerAc!)),
  );
  const both = bins.findIndex(({ brings }) => brings === "both");
  const carriers = (["P2O5", "K2O"] as const).map((oxide) =>
    bins.findIndex(({ brings }) => brings === oxide),
  );
  if (both < 0) {
    for (const [o, oxide] of (["P2O5", "K2O"] as const).entries()) {
      const b = carriers[o]!;
      if (b < 0) continue;
      full[b] = productRate(oxide === "P2O5" ? p2o5 : k2o, bins[b]!.product, oxide);
    }
  } else if (carriers.every((b) => b < 0)) {
    full[both] = ratioRates(bins[both]!, p2o5, k2o, prices);
  } else {
    const used = bins.map((_, b) => b).filter((b) => b === both || carriers.includes(b));
    const rate = bins[both]!.blend?.blend.rate;
    const [carrier, ...more] = carriers.filter((b) => b >= 0);
    if (rate === undefined || carrier === undefined || more.length > 0)
      coneRates(bins, used, p2o5, k2o, full);
    else
      [full[both], full[carrier]] = besideRates(
        bins[both]!,
        bins[carrier]!,
        { P2O5: p2o5, K2O: k2o },
        prices,
      );
  }
  for (const rates of full) for (let i = 0; i < cells; i++) if (Number.isNaN(p2o5[i]!)) rates[i] = Number.NaN;
  return full;
}

function ratioRates(
  { product, blend }: BinProduct,
  p2o5: Float64Array<ArrayBuffer>,
  k2o: Float64Array,
  prices: OxidePrices,
): Float64Array<ArrayBuffer> {
  const [p, k] = [oxideIn(product.grade, "P2O5"), oxideIn(product.grade, "K2O")];
  const how = ratioRateOf(blend?.blend);
  const weights = misfitWeights(blend?.blend, prices);
  return p2o5.map((needP, i) => {
    const [byP, byK] = [needP / p, k2o[i]! / k];
    if (how === "cover-both") return Math.max(byP, byK);
    if (how === "no-excess") return Math.min(byP, byK);
    const wanted = { id: "", areaAc: 1, p2o5LbPerAc: needP, k2oLbPerAc: k2o[i]! };
    return Number.isNaN(needP) ? needP : blendClass(wanted, k / p, weights).p2o5LbPerAc / p;
  });
}

/**
 * Rates of a blend and of a product that brings one of its oxides alone: that one fills up, so that the blend goes by its
 * other oxide, and where this is too much of the first by its `rate`.
 */
function besideRates(
  { product, blend }: BinProduct,
  beside: BinProduct,
  need: Readonly<Record<Oxide, Float64Array>>,
  prices: OxidePrices,
): [Float64Array<ArrayBuffer>, Float64Array<ArrayBuffer>] {
  const [own, filled]: [Oxide, Oxide] = beside.brings === "K2O" ? ["P2O5", "K2O"] : ["K2O", "P2O5"];
  const [a, b] = [oxideIn(product.grade, own), oxideIn(product.grade, filled)];
  const { overP2o5, overK2o, underP2o5, underK2o } = misfitWeights(blend?.blend, prices);
  const [under, over] = own === "P2O5" ? [underP2o5, overK2o] : [underK2o, overP2o5];
  const how = ratioRateOf(blend?.blend);
  const covers = how === "cover-both" || (how === "least-misfit" && a * under > b * over);
  const mixed = Float64Array.from(need[own], (lb, i) => {
    const full = lb / a;
    return covers ? full : Math.min(full, need[filled][i]! / b);
  });
  const rest = need[filled].map((lb, i) => Math.max(0, lb - mixed[i]! * b));
  return [mixed, productRate(Float64Array.from(rest), beside.product, filled)];
}

/** The same need comes many times: each pair is worked out once. */
function coneRates(
  bins: readonly BinProduct[],
  used: readonly number[],
  p2o5: Float64Array,
  k2o: Float64Array,
  full: Float64Array<ArrayBuffer>[],
): void {
  const grades = used.map((b) => bins[b]!.product.grade);
  const known = new Map<string, readonly number[]>();
  for (let i = 0; i < p2o5.length; i++) {
    if (Number.isNaN(p2o5[i]!)) continue;
    const key = `${p2o5[i]} ${k2o[i]}`;
    let rates = known.get(key);
    if (rates === undefined) {
      rates = productsForNeed(grades, { p2o5: p2o5[i]!, k2o: k2o[i]! }).lbPerAc;
      known.set(key, rates);
    }
    used.forEach((b, u) => {
      full[b]![i] = rates[u]!;
    });
  }
}
