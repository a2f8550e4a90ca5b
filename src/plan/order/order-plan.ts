import type { Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import {
  type Bought,
  boughtOf,
  type OrderMap,
  type OrderStand,
  type OrderTotals,
  oneNameEach,
  orderStand,
  orderTotals,
  USUAL_LOT_TONS,
} from "../../order/index.ts";
import { LB_PER_TON } from "../../units/index.ts";
import type { Plan, PlanNeed } from "../document/document-types.ts";
import { oxideIn } from "../document/field-products.ts";
import { typedPrices } from "../document/price-of-product.ts";
import { SAME_LB, smallRateOfFarm } from "../maps/small-rate.ts";
import { orderShares } from "../rig/order-shares.ts";
import { ledgerNotices } from "../stands/ledger-of-plan.ts";
import { stillToPlaceLb, stillToPlaceNotices } from "../stands/still-to-place.ts";
import { bookNotices, stockUnused } from "./book-notices.ts";
import { coatedOrderNotices } from "./coated-order.ts";
import { type FitOfPlan, fitOfPlan } from "./fit-plan.ts";
import { freightNotices, mixedBefore, orderNotices, placedUnordered, stockNotices } from "./order-notices.ts";
import type { OrderedField } from "./ordered-field.ts";
import { NO_SUPPLIER, orderTerms } from "./ratio-terms.ts";

/** What to order by the maps of a plan. */
export interface OrderOfPlan extends OrderTotals {
  /** Booked, delivered, due, and the plan of today against it; empty without a booking. */
  readonly book: readonly OrderStand[];
  /** Tons of each product still to order: whole lots of what is short with all that is bought, whoever sells it. */
  readonly toOrderTons: Readonly<Record<string, number>>;
  readonly overlapShare: number;
  readonly lossShare: number;
  /** Products of which less is booked and on hand than the maps take. */
  readonly fit: readonly FitOfPlan[];
  readonly notices: readonly Notice[];
  readonly whatIf: readonly { readonly product: string; readonly usdPerTon: number; readonly cost: number }[];
  /** False where a ton of a product has no price: its $ are in no sum. */
  readonly priced: Readonly<Record<string, boolean>>;
}

/** What `orderOfPlan` takes besides plan and maps. */
export interface OrderOptions {
  /** $ a ton instead of the plan's, by product. */
  readonly prices?: Readonly<Record<string, number>>;
  /** lb placed already are taken off the maps' pounds. */
  readonly stands?: readonly FieldStand[];
}

/** Of a product that only lies in stock: nothing. */
const NONE_BOUGHT: Bought = { tons: 0, leftLb: 0, cost: 0, isPriced: true, bySupplier: [] };

/**
 * What to order for the fields given: their files' pounds, less what the ledger says is placed, added up over the farm; what
 * is short of them with stock and all that is bought is ordered in whole lots. Stock is that before the season, without what
 * `book` has delivered; what was placed came out of it first, then out of what was bought. Tons bought cost what they were
 * booked at; those that no map takes are left over, as is stock that none takes. The range beside each total spans the readings of the need (guide at the
 * mapped test, mean over what the test may be, mean of the samples): not a confidence interval. Throws what `orderStand` throws.
 */
export function orderOfPlan(
  plan: Plan,
  fields: readonly OrderedField[],
  options: OrderOptions = {},
): OrderOfPlan {
  const maps = fields.flatMap((one) => mapsOf(one, plan.need?.drivenBy, options.stands));
  const terms = orderTerms(plan);
  const book = oneNameEach(plan.order?.book ?? [], terms);
  const shares = orderShares(plan);
  const { overlapShare, lossShare } = shares;
  const mapped = [...new Set(maps.map((map) => map.product))];
  const prices = typedPrices(plan);
  const termsOf = (product: string) => terms.filter((one) => one.product === product);
  const bookOf = (product: string) => book.filter((one) => one.product === product);
  const onHandOf = (product: string): number => sum(termsOf(product).map(({ onHandLb = 0 }) => onHandLb));
  const freightOf = (product: string, supplier: string | undefined): number =>
    termsOf(product).find((one) => one.supplier === supplier)?.freightUsdPerTon ?? 0;
  const laid = (options.stands ?? []).flatMap(({ placed }) => placed);
  const placedOf = (product: string): number =>
    sum(laid.filter((one) => one.product === product).map((one) => one.lb));
  const boughtAt = (product: string, usdPerTon: number | null) =>
    boughtOf(
      bookOf(product),
      { usdPerTon, freightOf: (supplier) => freightOf(product, supplier) },
      Math.max(0, placedOf(product) - onHandOf(product)),
    );
  const wanted = new Set([...mapped, ...book.map(({ product }) => product)]);
  const stocked = [...new Set(terms.map(({ product }) => product))].filter(
    (product) => !wanted.has(product) && onHandOf(product) - placedOf(product) >= SAME_LB,
  );
  const products = [...wanted, ...stocked];
  const unordered = [...new Set(laid.map(({ product }) => product))].filter((one) => !products.includes(one));
  const made = orderTotals(
    maps,
    products.map((product) => {
      const [term] = termsOf(product);
      return {
        product,
        supplier: term?.supplier ?? NO_SUPPLIER,
        pricePerTon: prices[product] ?? 0,
        isPriced: prices[product] !== undefined,
        freightPerTon: freightOf(product, term?.supplier),
        overlapShare,
        lossShare,
        onHandLb: Math.max(0, onHandOf(product) - placedOf(product)),
        placedLb: placedOf(product),
        lotTons: term?.lotTons ?? USUAL_LOT_TONS,
        bought: stocked.includes(product)
          ? { ...NONE_BOUGHT, isPriced: prices[product] !== undefined }
          : boughtAt(product, prices[product] ?? null),
      };
    }),
  );
  const lines = made.products.map(({ line }) => line);
  const planned = made.products.flatMap(({ supplier, line }) =>
    mapped.includes(line.product) ? [{ product: line.product, supplier, tons: line.plannedTons }] : [],
  );
  const stood = book.length === 0 ? [] : orderStand(book, planned);
  return {
    ...made,
    book: stood,
    toOrderTons: Object.fromEntries(lines.map((line) => [line.product, line.toOrderTons])),
    fit: made.products.flatMap(({ line, byField }) => {
      if (bookOf(line.product).length === 0) return [];
      const lbOf = (id: string): number => {
        const one = byField.find(({ fieldId }) => fieldId === id);
        return one === undefined ? 0 : one.stripLb + one.broadcastLb;
      };
      const fit = fitOfPlan(line.product, fields, lbOf, line.onHandLb + line.boughtLeftLb, shares);
      return fit === null ? [] : [fit];
    }),
    overlapShare,
    lossShare,
    notices: [
      ...orderNotices(
        { ...made, products: made.products.filter(({ line }) => wanted.has(line.product)) },
        mapped,
        { ...options.prices, ...prices },
        terms,
        shares,
      ),
      ...coatedOrderNotices(plan, fields, (map, { field, prescriptions }) =>
        stillToPlaceLb(
          map,
          prescriptions,
          options.stands?.find(({ fieldId }) => fieldId === field.id),
        ),
      ),
      ...smallRateOfFarm(plan, fields, (one, map) => leftShare(one, map, options.stands)),
      ...bookNotices(book, stood, made, plan),
      ...stockUnused(
        plan,
        lines.filter(({ product }) => stocked.includes(product)),
      ),
      ...freightNotices(made, terms),
      ...placedUnordered(unordered.map((product) => ({ product, placedLb: placedOf(product) }))),
      ...mixedBefore(plan, (product) => {
        const delivered = stood.find((one) => one.product === product)?.deliveredTons ?? 0;
        return onHandOf(product) + delivered * LB_PER_TON - placedOf(product);
      }),
      ...[...products, ...unordered].flatMap((product) =>
        stockNotices(product, placedOf(product), {
          onHandLb: termsOf(product).some((one) => one.onHandLb !== undefined) ? onHandOf(product) : null,
          deliveredTons: stood.find((one) => one.product === product)?.deliveredTons ?? null,
        }),
      ),
      // What is finished is not ordered again: whoever orders is told what lies there.
      ...(options.stands === undefined ? [] : ledgerNotices({}, fields, options.stands)),
      ...fields.flatMap((one) =>
        stillToPlaceNotices(
          one,
          maps,
          options.stands?.find(({ fieldId }) => fieldId === one.field.id),
        ),
      ),
    ],
    whatIf: Object.entries(options.prices ?? {}).flatMap(([product, usdPerTon]) => {
      const line = lines.find((one) => one.product === product);
      if (line === undefined) return [];
      const boughtCost = boughtAt(product, usdPerTon)?.cost ?? 0;
      return [{ product, usdPerTon, cost: boughtCost + line.toOrderTons * (usdPerTon + line.freightPerTon) }];
    }),
    priced: Object.fromEntries(made.products.map(({ line, isPriced }) => [line.product, isPriced])),
  };
}

/** Of a map's pounds what is still to place, 0 to 1; all of it where the map has none. */
function leftShare(
  { field, prescriptions }: OrderedField,
  map: OrderedField["prescriptions"][number],
  stands: readonly FieldStand[] | undefined,
): number {
  const stand = stands?.find((one) => one.fieldId === field.id);
  return map.totalLb > 0 ? stillToPlaceLb(map, prescriptions, stand) / map.totalLb : 1;
}

function mapsOf(
  { field, prescriptions, need }: OrderedField,
  drivenBy: PlanNeed["drivenBy"] | undefined,
  stands: readonly FieldStand[] | undefined,
): OrderMap[] {
  const placed = stands?.find((one) => one.fieldId === field.id);
  return prescriptions.map((map): OrderMap => {
    const lb = stillToPlaceLb(map, prescriptions, placed);
    const isByNeed = oxideIn(map.analysis, "P2O5") + oxideIn(map.analysis, "K2O") > 0;
    // Where nothing goes any more, or a flat rate whatever the need, nothing is in doubt.
    const range =
      lb === 0 || !isByNeed
        ? { low: 1, high: 1 }
        : readingsOf(need, drivenBy, oxideIn(map.analysis, "P2O5") > 0);
    const rangeLb = range === null ? {} : { lowLb: lb * range.low, highLb: lb * range.high };
    return { id: map.stem, fieldId: field.id, product: map.product, kind: map.pass, lb, ...rangeLb };
  });
}

/** Least and most of the readings of the need over the one that drives the rates; null unless there are two and all worked out. */
function readingsOf(
  need: OrderedField["need"],
  drivenBy: PlanNeed["drivenBy"] | undefined,
  isPhosphate: boolean,
): { low: number; high: number } | null {
  if (!need.hasAllReadings) return null;
  const figures = isPhosphate ? need.figures.P2O5 : need.figures.K2O;
  const { mappedTestLb, expectedLb, weightedLb, atSamplesLb } = figures;
  const all = [mappedTestLb, expectedLb, atSamplesLb].filter(
    (lb): lb is number => lb !== null && Number.isFinite(lb),
  );
  const driving =
    (drivenBy === "expected" ? expectedLb : drivenBy === "weighted" ? weightedLb : null) ?? mappedTestLb;
  if (all.length < 2 || !(driving > 0)) return null;
  return { low: Math.min(...all) / driving, high: Math.max(...all) / driving };
}
