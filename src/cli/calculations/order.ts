import { z } from "zod";
import {
  type FitResult,
  fitToBought,
  loadSchedule,
  type OrderEntry,
  type OrderMap,
  type OrderStand,
  type OrderTerms,
  type OrderTotals,
  orderStand,
  orderTotals,
  type ScheduledLoad,
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
  const { maps, terms, book, whatIf, use, fit } = given;
  const totals = orderTotals(maps, terms);
  const termOf = (product: string): OrderTerms => {
    const term = terms.find((one) => one.product === product);
    if (term === undefined) throw partMissing(`terms of ${product}`);
    return term;
  };
  const tonsOf = (product: string): number =>
    totals.products.find((one) => one.line.product === product)?.line.orderTons ?? 0;
  return {
    ...totals,
    ...(book && {
      book: orderStand(
        book,
        totals.products.map(({ supplier, line }) => ({
          supplier,
          product: line.product,
          tons: line.orderTons,
        })),
      ),
    }),
    ...(whatIf && {
      whatIf: whatIf.map(({ product, changeShare }) => {
        const { pricePerTon, freightPerTon = 0 } = termOf(product);
        return {
          product,
          changeShare,
          cost: whatIfCost(tonsOf(product), pricePerTon, freightPerTon, changeShare),
        };
      }),
    }),
    ...(use && {
      loads: [...new Set(use.map((one) => one.product))].map((product) => ({
        product,
        loads: loadSchedule({
          use: use.filter((one) => one.product === product),
          onHandLb: termOf(product).onHandLb,
          loadTons: termOf(product).lotTons ?? 0.1,
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
