import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { type OrderLine, orderLine } from "./order-line.ts";

export interface OrderMap {
  readonly id: string;
  readonly fieldId: string;
  readonly product: string;
  readonly kind: "strip" | "broadcast";
  /** Unrounded lb of the map. */
  readonly lb: number;
  /** Where the lb may lie by the soil map's error; left out where it is not known. */
  readonly lowLb?: number;
  readonly highLb?: number;
}

export interface OrderTerms {
  readonly product: string;
  readonly supplier: string;
  readonly pricePerTon: number;
  readonly freightPerTon?: number;
  readonly overlapShare: number;
  readonly lossShare: number;
  readonly onHandLb: number;
  readonly lotTons?: number;
}

interface ProductOrder {
  readonly supplier: string;
  readonly line: OrderLine;
  readonly byField: readonly {
    readonly fieldId: string;
    readonly stripLb: number;
    readonly broadcastLb: number;
  }[];
  /** The maps' error range, all maps low or all high together; null unless every map has one. */
  readonly lowLb: number | null;
  readonly highLb: number | null;
}

export interface OrderTotals {
  readonly products: readonly ProductOrder[];
  readonly suppliers: readonly { readonly supplier: string; readonly tons: number; readonly cost: number }[];
  readonly cost: number;
  readonly leftValue: number;
}

/** From maps to fields, the farm and suppliers; products and fields in the order they first appear. Throws `product-without-terms`. */
export function orderTotals(maps: readonly OrderMap[], terms: readonly OrderTerms[]): OrderTotals {
  const products = [...new Set(maps.map((map) => map.product))].map((product): ProductOrder => {
    const own = maps.filter((map) => map.product === product);
    const term = terms.find((one) => one.product === product);
    if (term === undefined) {
      throw new InputError(
        "product-without-terms",
        `map ${own[0]!.id} uses ${product} and no price or supplier is given for it`,
        `Give supplier, price, overlap, loss and stock of ${product}.`,
      );
    }
    const total = (fieldId: string, kind: OrderMap["kind"]): number =>
      sum(own.filter((map) => map.fieldId === fieldId && map.kind === kind).map((map) => map.lb));
    const range = (pick: (map: OrderMap) => number | undefined): number | null => {
      const values = own.map(pick).filter((value) => value !== undefined);
      return values.length === own.length ? sum(values) : null;
    };
    return {
      supplier: term.supplier,
      line: orderLine({ ...term, maps: own }),
      byField: [...new Set(own.map((map) => map.fieldId))].map((fieldId) => ({
        fieldId,
        stripLb: total(fieldId, "strip"),
        broadcastLb: total(fieldId, "broadcast"),
      })),
      lowLb: range((map) => map.lowLb),
      highLb: range((map) => map.highLb),
    };
  });
  const suppliers = [...new Set(products.map((one) => one.supplier))].map((supplier) => {
    const own = products.filter((one) => one.supplier === supplier);
    return {
      supplier,
      tons: sum(own.map((one) => one.line.orderTons)),
      cost: sum(own.map((one) => one.line.cost)),
    };
  });
  return {
    products,
    suppliers,
    cost: sum(products.map((one) => one.line.cost)),
    leftValue: sum(products.map((one) => one.line.leftValue)),
  };
}
