import { InputError } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { Product } from "../../products/index.ts";
import { acres, LB_PER_TON } from "../../units/index.ts";
import type { Oxide, PlanBudget } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { bringsOf, type FieldProducts, oxideIn, type SettledBlend } from "../document/field-products.ts";
import { type OxideRates, ratesOf } from "../document/oxide-rates.ts";
import { priceOf } from "../document/price-of-product.ts";
import { addPounds, unplacedLb } from "../maps/rate-loops.ts";
import { spreadCarriers, spreadRates } from "../maps/spread-carriers.ts";
import { sumOver } from "../results/field-sums.ts";
import type { FieldGrid, FinishedPass, Split } from "../results/result-types.ts";
import { isStripDone } from "../stands/placed-surplus.ts";
import { stillToPlaceLb } from "../stands/still-to-place.ts";

/** What a lb of a product takes of a budget: $ at the plan's price, or the lb itself. */
export type CostOf = (product: string) => number;

/** Costs in the unit of the budget. The function throws `budget-without-price` where $ meet a product without a price. */
export const costsIn =
  (plan: Plan, budget: PlanBudget, blends: readonly SettledBlend[]): CostOf =>
  (product) => {
    if ("lb" in budget) return 1;
    const usdPerTon = priceOf(plan, product, blends);
    if (usdPerTon !== undefined) return usdPerTon / LB_PER_TON;
    throw new InputError(
      "budget-without-price",
      `the budget is in $ and ${withoutPrice(plan, product, blends)} no price`,
      "Give pricesUsdPerTon for each product, or a budget in lb.",
    );
  };

/** What a price is missing of: the product, or of a blend those parts whose price would do; the spreader lays them alone too. */
function withoutPrice(plan: Plan, product: string, blends: readonly SettledBlend[]): string {
  const parts = blends.find((one) => one.product.id === product)?.parts ?? [];
  const missing = parts
    .map((part) => part.product.id)
    .filter((id) => plan.pricesUsdPerTon?.[id] === undefined);
  if (missing.length === 0) return `${product} has`;
  const what = missing.length === 1 ? "a part" : "parts";
  return `${missing.join(" and ")}, ${what} of ${product}, ${missing.length === 1 ? "has" : "have"}`;
}

/** What brings an oxide in a field: in the strip, and by the spreader. */
const carriersOf = (laid: FieldProducts, oxide: Oxide): Product[] =>
  [...laid.bins.map(({ product }) => product), ...spreadCarriers(laid.spread)].filter(
    (product) => oxideIn(product.grade, oxide) > 0,
  );

/** What a lb of each oxide takes of the budget by the first product that brings it; nothing where none does. */
export function costOfOxides(laid: FieldProducts, costOf: CostOf): Readonly<Record<Oxide, number>> {
  const of = (oxide: Oxide): number => {
    const product = carriersOf(laid, oxide)[0];
    if (product === undefined) return 0;
    const { grade } = product;
    const brought =
      bringsOf(product) === "both" ? oxideIn(grade, "P2O5") + oxideIn(grade, "K2O") : oxideIn(grade, oxide);
    return costOf(product.id) / brought;
  };
  return { P2O5: of("P2O5"), K2O: of("K2O") };
}

/**
 * Whether a lb of an oxide costs the same wherever it goes, so that the wants alone say what the maps will cost: one product
 * an oxide for strip and spreader, nothing flat, every pound brought by the one or the other.
 */
export function isCostByOxide(plan: Plan, laid: FieldProducts): boolean {
  const { method, bandFactorP2O5 } = plan.split;
  return (
    plan.blends === undefined &&
    bandFactorP2O5 === undefined &&
    method !== "optimum" &&
    plan.fields.every(({ broadcast }) => broadcast === "later") &&
    laid.bins.every(({ brings }) => brings === "P2O5" || brings === "K2O") &&
    (["P2O5", "K2O"] as const).every((oxide) => {
      const ids = carriersOf(laid, oxide).map(({ id }) => id);
      return ids.length > 0 && ids.every((id) => id === ids[0]);
    })
  );
}

/** What a field's split takes of a budget, strip and spreader, before rates are averaged and stepped. */
export interface SplitCost {
  /** Of flat rates, which a budget does not cut. */
  readonly flat: number;
  readonly byNeed: number;
}

/** Of one field, each pound at what really brings it. */
export function costOfSplit(
  field: PlanField,
  laid: FieldProducts,
  cells: FieldGrid,
  wanted: OxideRates,
  split: Split,
  costOf: CostOf,
): SplitCost {
  const inStrip = split.products.map((one, b) => ({
    isFlat: laid.bins[b]!.bin.flatLbPerAc !== undefined,
    cost: sumOver(cells, one.strip) * costOf(one.product),
  }));
  const of = (isFlat: boolean) => sum(inStrip.filter((one) => one.isFlat === isFlat).map(({ cost }) => cost));
  const isSpread = field.broadcast === "later" && (split.optimum?.pass ?? true);
  const spread = isSpread ? costOfSpread(laid, cells, wanted, split, costOf) : 0;
  return { flat: of(true), byNeed: of(false) + spread };
}

/** What the spreader is to bring of one field takes of a budget, before rates are averaged and stepped. */
export function costOfSpread(
  laid: FieldProducts,
  cells: FieldGrid,
  wanted: OxideRates,
  split: Split,
  costOf: CostOf,
): number {
  const { areaM2 } = cells;
  const [p2o5Lb, k2oLb] = (["P2O5", "K2O"] as const).map((oxide) => {
    const placed = new Float64Array(areaM2.length);
    for (const { strip, analysis } of split.products)
      addPounds(placed, strip, areaM2, oxideIn(analysis, oxide));
    const left = unplacedLb(
      areaM2,
      ratesOf(wanted, oxide),
      placed,
      oxide === "P2O5" ? split.p2o5Counts : null,
    );
    return left.map((lb) => Math.max(0, lb));
  }) as [Float64Array, Float64Array];
  const carriers = spreadCarriers(laid.spread);
  const costs = carriers.map(({ id }) => costOf(id));
  const costAt = (p2o5: number, k2o: number): number =>
    sum(spreadRates(carriers, p2o5, k2o).map((lb, p) => lb * costs[p]!));
  // Where each product brings one oxide, the rates of the sum are the sum of the rates.
  if (carriers.every((product) => bringsOf(product) !== "both")) return costAt(sum(p2o5Lb), sum(k2oLb));
  return sum(
    [...areaM2.keys()].map((i) => {
      const ac = areaM2[i]! > 0 ? acres(areaM2[i]!) : 0;
      return ac > 0 ? ac * costAt(p2o5Lb[i]! / ac, k2oLb[i]! / ac) : 0;
    }),
  );
}

/** Whether a field's strip lies there already, whatever product was laid, or a pass of it is finished: its rates are not cut any more. */
export const isDone = (stand: FieldStand, finished: readonly FinishedPass[]): boolean =>
  finished.length > 0 || isStripDone(stand);

/**
 * What a field takes of a budget by its maps; a pass that is done by what the ledger has of it, where it has anything. Beside
 * strips that are done the spreader's maps count by what of them is still to place, and a bin's of which nothing is entered yet,
 * while all that is comes from the maps' bins, by its map until the pass is finished.
 */
export function costOfField(
  maps: readonly Prescription[],
  stand: FieldStand,
  finished: readonly FinishedPass[],
  costOf: CostOf,
): number {
  return sum(
    (["strip", "broadcast"] as const).map((pass) => {
      const isFinished = finished.some((one) => one.pass === pass);
      const placed = stand.placed.filter((one) => (one.pass === "strip") === (pass === "strip"));
      const isLaid = placed.length > 0 && (isFinished || (pass === "strip" && isStripDone(stand)));
      const isLeft = !isFinished && pass === "broadcast" && isStripDone(stand);
      const left = maps
        .filter((map) => map.pass === pass)
        .map((map) => ({
          product: map.product,
          lb: isLeft ? stillToPlaceLb(map, maps, stand) : map.totalLb,
        }));
      const isByMaps = placed.every(({ product }) => left.some((one) => one.product === product));
      const awaited =
        isFinished || !isByMaps ? [] : left.filter((one) => stand.missing.includes(one.product));
      const counted = isLaid ? [...placed, ...awaited] : isLeft ? [...placed, ...left] : left;
      return sum(counted.filter(({ lb }) => lb > 0).map(({ product, lb }) => lb * costOf(product)));
    }),
  );
}
