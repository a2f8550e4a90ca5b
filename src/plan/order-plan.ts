import type { Notice } from "../errors/index.ts";
import type { FieldStand } from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import {
  type OrderMap,
  type OrderStand,
  type OrderTotals,
  orderStand,
  orderTotals,
  whatIfCost,
} from "../order/index.ts";
import { LB_PER_TON } from "../units/index.ts";
import { bookNotices } from "./book-notices.ts";
import { bookedCost, withBookedCost } from "./booked-cost.ts";
import type { Plan, PlanNeed } from "./document-types.ts";
import { oxideIn } from "./field-products.ts";
import { type FitOfPlan, fitOfPlan } from "./fit-plan.ts";
import { ledgerNotices } from "./ledger-of-plan.ts";
import { type OrderShares, orderShares } from "./order-shares.ts";
import type { FieldResult } from "./result-types.ts";

/** What the order needs of a field. */
export type OrderedField = Pick<FieldResult, "field" | "finished" | "prescriptions" | "need">;

/** What to order by the maps of a plan. */
export interface OrderOfPlan extends OrderTotals {
  /** Booked, delivered, due, and the plan of today against it; empty without a booking. */
  readonly book: readonly OrderStand[];
  /** Tons of each product still to order: the plan's less what is booked, whoever it is booked with. */
  readonly toOrderTons: Readonly<Record<string, number>>;
  readonly overlapShare: number;
  readonly lossShare: number;
  /** Products of which less is booked and on hand than the maps take. */
  readonly fit: readonly FitOfPlan[];
  readonly notices: readonly Notice[];
  readonly whatIf: readonly { readonly product: string; readonly usdPerTon: number; readonly cost: number }[];
  /** False where a product has no price: its $ are left out. */
  readonly priced: Readonly<Record<string, boolean>>;
}

/** What `orderOfPlan` takes besides plan and maps. */
export interface OrderOptions {
  /** $ a ton instead of the plan's, by product. */
  readonly prices?: Readonly<Record<string, number>>;
  /** lb placed already are taken off the maps' pounds. */
  readonly stands?: readonly FieldStand[];
}

const NO_SUPPLIER = "no supplier typed";

/**
 * What to order for the fields given: their files' pounds, less what the ledger says is placed, added up over the farm and
 * rounded once a product. Stock is that before the season, without what `book` has delivered; what was placed came out of it
 * first, and counts again where the booking is held against the plan. Tons bought cost what they were booked at. The range beside each total spans the readings of the need (guide at the mapped test, mean over
 * what the test may be, mean of the samples): not a confidence interval.
 */
export function orderOfPlan(
  plan: Plan,
  fields: readonly OrderedField[],
  options: OrderOptions = {},
): OrderOfPlan {
  const maps = fields.flatMap((one) => mapsOf(one, plan.need?.drivenBy, options.stands));
  const { terms = [], book = [] } = plan.order ?? {};
  const shares = orderShares(plan);
  const { overlapShare, lossShare } = shares;
  const productNames = [...new Set(maps.map((map) => map.product))];
  const prices: Readonly<Partial<Record<string, number>>> = plan.pricesUsdPerTon ?? {};
  const termsOf = (product: string) => terms.filter((one) => one.product === product);
  const onHandOf = (product: string): number => sum(termsOf(product).map(({ onHandLb = 0 }) => onHandLb));
  /** From a supplier, else from the first that the plan names. */
  const freightOf = (product: string, supplier: string | null): number => {
    const own = termsOf(product);
    return (own.find((one) => one.supplier === supplier) ?? own[0])?.freightUsdPerTon ?? 0;
  };
  // What was placed came out of the stock first, then out of what was bought.
  const placedOf = (product: string): number =>
    sum(
      (options.stands ?? []).flatMap(({ placed }) =>
        placed.filter((one) => one.product === product).map((one) => one.lb),
      ),
    );
  const usedTons = (product: string): number =>
    Math.max(0, placedOf(product) - onHandOf(product)) / LB_PER_TON;
  const made = orderTotals(
    maps,
    productNames.map((product) => {
      const [term] = termsOf(product);
      return {
        product,
        supplier: term?.supplier ?? NO_SUPPLIER,
        pricePerTon: prices[product] ?? 0,
        freightPerTon: freightOf(product, null),
        overlapShare,
        lossShare,
        onHandLb: Math.max(0, onHandOf(product) - placedOf(product)),
        lotTons: term?.lotTons ?? 0.1,
      };
    }),
  );
  const planned = made.products.map(({ supplier, line }) => ({
    product: line.product,
    supplier,
    tons: line.orderTons + usedTons(line.product),
  }));
  const stood = book.length === 0 ? [] : orderStand(book, planned);
  const costOf = (product: string, usdPerTon: number) =>
    bookedCost(
      book.filter((one) => one.product === product),
      planned.find((one) => one.product === product)!.tons,
      { usdPerTon, freightOf: (supplier) => freightOf(product, supplier) },
    );
  const costs = Object.fromEntries(
    productNames.map((product) => [product, costOf(product, prices[product] ?? 0)]),
  );
  const isBooked = (product: string): boolean => book.some((one) => one.product === product);
  // Without a price or a freight of its own a booking costs what the order does.
  const isPaid = (product: string): boolean =>
    book.some(
      (one) =>
        one.product === product &&
        (one.pricePerTon !== undefined || freightOf(product, one.supplier) !== freightOf(product, null)),
    );
  const booked = Object.fromEntries(Object.entries(costs).filter(([product]) => isPaid(product)));
  return {
    ...withBookedCost(made, booked),
    book: stood,
    toOrderTons: Object.fromEntries(
      made.products.map(({ line }) => [
        line.product,
        isBooked(line.product) ? costs[line.product]!.toOrderTons : line.orderTons,
      ]),
    ),
    fit: made.products.flatMap(({ line, byField }) => {
      if (!isBooked(line.product)) return [];
      const { boughtTons } = stood.find((one) => one.product === line.product)!;
      const lbOf = (id: string): number => {
        const one = byField.find(({ fieldId }) => fieldId === id);
        return one === undefined ? 0 : one.stripLb + one.broadcastLb;
      };
      const boughtLb = Math.max(0, boughtTons * LB_PER_TON + onHandOf(line.product) - placedOf(line.product));
      const fit = fitOfPlan(line.product, fields, lbOf, boughtLb, shares);
      return fit === null ? [] : [fit];
    }),
    overlapShare,
    lossShare,
    notices: [
      ...noticesOf(made, productNames, { ...options.prices, ...prices }, terms, shares),
      ...bookNotices(book, stood, prices),
      ...productNames.flatMap((product) => placedNotice(product, placedOf(product), onHandOf(product))),
      // What is finished is not ordered again: whoever orders is told what lies there.
      ...(options.stands === undefined ? [] : ledgerNotices({}, fields, options.stands)),
    ],
    whatIf: Object.entries(options.prices ?? {}).flatMap(([product, usdPerTon]) => {
      const line = made.products.find((one) => one.line.product === product)?.line;
      if (line === undefined) return [];
      if (isPaid(product)) return [{ product, usdPerTon, cost: costOf(product, usdPerTon).cost }];
      return [
        { product, usdPerTon, cost: whatIfCost(line.orderTons, usdPerTon, freightOf(product, null), 0) },
      ];
    }),
    priced: Object.fromEntries(productNames.map((product) => [product, prices[product] !== undefined])),
  };
}

/** The stock of the plan is that before the season: what was placed is taken out of it, and then out of the purchases. */
function placedNotice(product: string, placedLb: number, onHandLb: number): Notice[] {
  if (placedLb === 0 || onHandLb === 0) return [];
  const lb = (value: number): string => Math.round(value).toLocaleString("en-US");
  const left = Math.max(0, onHandLb - placedLb);
  const message = `${product}: of the ${lb(onHandLb)} lb on hand before the season ${lb(left)} lb count as left, since ${lb(placedLb)} lb are placed by the ledger`;
  return [{ code: "stock-placed", message, where: "order" }];
}

function mapsOf(
  { field, prescriptions, need }: OrderedField,
  drivenBy: PlanNeed["drivenBy"] | undefined,
  stands: readonly FieldStand[] | undefined,
): OrderMap[] {
  const placed = stands?.find((one) => one.fieldId === field.id);
  return prescriptions.map((map): OrderMap => {
    const done = sum(
      (placed?.placed ?? [])
        .filter((one) => one.product === map.product && (one.pass === "strip") === (map.pass === "strip"))
        .map((one) => one.lb),
    );
    const isOver = map.pass === "strip" && placed?.frozen === true;
    const lb = isOver ? 0 : Math.max(0, map.totalLb - done);
    // Where nothing goes any more nothing is in doubt.
    const range =
      lb === 0 ? { low: 1, high: 1 } : readingsOf(need, drivenBy, oxideIn(map.analysis, "P2O5") > 0);
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

function noticesOf(
  made: OrderTotals,
  productNames: readonly string[],
  prices: Readonly<Partial<Record<string, number>>>,
  terms: NonNullable<NonNullable<Plan["order"]>["terms"]>,
  shares: OrderShares,
): Notice[] {
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message, where: "order" });
  };
  const unpriced = productNames.filter((product) => prices[product] === undefined);
  if (unpriced.length > 0)
    add("no-price", `no price is typed for ${unpriced.join(", ")}: its $ are left out`);
  if (shares.isOverlapAssumed)
    add(
      "overlap-assumed",
      "overlap of 3.3 % added, a published mean of planters without section control; type your own",
    );
  if (shares.isLossAssumed)
    add("loss-assumed", "nothing is added for handling loss: no published figure was found");
  for (const { line } of made.products) {
    const [first, ...others] = terms.filter((one) => one.product === line.product);
    if (others.length > 0)
      add(
        "several-suppliers",
        `${line.product}: ${others.length + 1} suppliers are typed and none is chosen; what is not bought yet is reckoned from the first, ${first!.supplier}: put the one you buy from first`,
      );
    if (first === undefined)
      add("no-stock", `nothing is typed of ${line.product} on hand: the order takes none into account`);
    if (line.lotTons >= 1 && line.trimShare !== null && line.trimShare > 0 && line.trimShare < 0.05) {
      const perLot = `${(100 * line.trimShare).toFixed(2)} %`;
      add(
        "save-a-load",
        `${line.product}: ${perLot} off every rate saves one lot of ${line.lotTons} tons (${(line.leftLb / LB_PER_TON).toFixed(1)} tons are left over otherwise)`,
      );
    }
  }
  return notices;
}
