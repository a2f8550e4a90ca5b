import { z } from "zod";
import {
  boughtOf,
  type FitResult,
  fitToBought,
  loadSchedule,
  type OrderEntry,
  type OrderMap,
  type OrderStand,
  type OrderTerms,
  type OrderTotals,
  oneNameEach,
  orderStand,
  orderTotals,
  type ScheduledLoad,
  USUAL_LOT_TONS,
  whatIfCost,
} from "../../order/index.ts";
import { partMissing, type ReadShape } from "./read-calculation.ts";

const number = z.number();
const maybe = z.exactOptional(z.number());

const MapShape: z.ZodType<OrderMap> = z.strictObject({
  id: z.string(),
  fieldId: z.string(),
  product: z.string(),
  kind: z.enum(["strip", "broadcast"]),
  lb: number,
  lowLb: maybe,
  highLb: maybe,
});
const TermsShape: z.ZodType<OrderTerms> = z.strictObject({
  product: z.string(),
  supplier: z.string(),
  pricePerTon: number,
  freightPerTon: maybe,
  overlapShare: number,
  lossShare: number,
  onHandLb: number,
  lotTons: maybe,
});
const OrderEntryShape: z.ZodType<OrderEntry> = z.strictObject({
  date: z.iso.date(),
  kind: z.enum(["booked", "cancelled", "delivered"]),
  product: z.string(),
  supplier: z.string(),
  tons: number,
  pricePerTon: maybe,
  ticket: z.exactOptional(z.string()),
});

/** What `order --input` takes. */
const OrderShape = z.strictObject({
  maps: z.array(MapShape),
  terms: z.array(TermsShape),
  book: z.exactOptional(z.array(OrderEntryShape)),
  whatIf: z.exactOptional(z.array(z.strictObject({ product: z.string(), changeShare: number }))),
  use: z.exactOptional(z.array(z.strictObject({ product: z.string(), date: z.iso.date(), lb: number }))),
  fit: z.exactOptional(
    z.array(
      z.strictObject({
        product: z.string(),
        boughtLb: number,
        order: z.array(z.string()),
        parts: z.array(
          z.strictObject({ id: z.string(), fieldId: z.string(), layer: z.string(), lb: number }),
        ),
      }),
    ),
  ),
});

export interface OrderResult extends OrderTotals {
  readonly book?: readonly OrderStand[];
  readonly whatIf?: readonly {
    readonly product: string;
    readonly changeShare: number;
    readonly cost: number;
  }[];
  readonly loads?: readonly { readonly product: string; readonly loads: readonly ScheduledLoad[] }[];
  readonly fit?: readonly ({ readonly product: string } & FitResult)[];
}

/** The order by itself. Throws `product-without-terms` and what the parts throw. */
export function orderOf(read: ReadShape): OrderResult {
  const given = read(OrderShape);
  const { maps, whatIf, use, fit } = given;
  const terms = oneNameEach(given.terms);
  const book = given.book && oneNameEach(given.book, terms);
  const termOf = (product: string): OrderTerms => {
    const term = terms.find((one) => one.product === product);
    if (term === undefined) throw partMissing(`terms of ${product}`);
    return term;
  };
  const boughtAt = (product: string, changeShare: number) => {
    const { pricePerTon, freightPerTon = 0 } = termOf(product);
    const own = (book ?? []).filter((one) => one.product === product);
    return boughtOf(own, { usdPerTon: pricePerTon * (1 + changeShare), freightOf: () => freightPerTon });
  };
  const totals = orderTotals(
    maps,
    terms.map((term) => ({ ...term, bought: boughtAt(term.product, 0) })),
  );
  const lineOf = (product: string) => totals.products.find((one) => one.line.product === product)?.line;
  return {
    ...totals,
    ...(book && {
      book: orderStand(
        book,
        totals.products.flatMap(({ supplier, line }) =>
          maps.some((map) => map.product === line.product)
            ? [{ supplier, product: line.product, tons: line.plannedTons }]
            : [],
        ),
      ),
    }),
    ...(whatIf && {
      whatIf: whatIf.map(({ product, changeShare }) => {
        const { pricePerTon, freightPerTon = 0 } = termOf(product);
        const toOrder = whatIfCost(
          lineOf(product)?.toOrderTons ?? 0,
          pricePerTon,
          freightPerTon,
          changeShare,
        );
        return { product, changeShare, cost: toOrder + (boughtAt(product, changeShare)?.cost ?? 0) };
      }),
    }),
    ...(use && {
      loads: [...new Set(use.map((one) => one.product))].map((product) => ({
        product,
        loads: loadSchedule({
          use: use.filter((one) => one.product === product),
          onHandLb: termOf(product).onHandLb,
          loadTons: termOf(product).lotTons ?? USUAL_LOT_TONS,
        }),
      })),
    }),
    ...(fit && {
      fit: fit.map(({ product, ...rest }) => {
        const { overlapShare, lossShare } = termOf(product);
        return { product, ...fitToBought({ ...rest, overlapShare, lossShare }) };
      }),
    }),
  };
}
