import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import type { Bought, BoughtShare } from "./bought.ts";
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
  /** Where what is still to order is bought. */
  readonly supplier: string;
  readonly pricePerTon: number;
  /** False where nobody typed a price and `pricePerTon` is 0; true when left out. */
  readonly isPriced?: boolean;
  readonly freightPerTon?: number;
  readonly overlapShare: number;
  readonly lossShare: number;
  readonly onHandLb: number;
  /** lb placed already, which the maps given no longer have; 0 when left out. */
  readonly placedLb?: number;
  readonly lotTons?: number;
  readonly bought?: Bought | null;
}

export interface SupplierShare {
  readonly supplier: string;
  readonly tons: number;
  readonly cost: number;
}

export interface ProductOrder {
  readonly supplier: string;
  readonly line: OrderLine;
  /** What is bought, where and for what. */
  readonly bought: readonly BoughtShare[];
  /** The season's tons and $ by supplier: bought, and still to order from `supplier`. */
  readonly suppliers: readonly SupplierShare[];
  /** False where a ton of it has no price: its line has the $ of the others alone, and no sum the $ of what is left of it. */
  readonly isPriced: boolean;
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
  readonly suppliers: readonly SupplierShare[];
  /** $ of all tons that have a price. */
  readonly cost: number;
  readonly leftValue: number;
  /** $ of `leftValue` for what was on hand: they are not in `cost`. */
  readonly leftOnHandValue: number;
}

/**
 * From maps to fields, the farm and suppliers; products and fields in the order they first appear, then products that are
 * bought and that no map uses. Throws `product-without-terms`.
 */
export function orderTotals(maps: readonly OrderMap[], terms: readonly OrderTerms[]): OrderTotals {
  const unused = terms.filter(({ bought }) => bought !== undefined && bought !== null);
  const names = new Set([...maps, ...unused].map(({ product }) => product));
  const products = [...names].map((product): ProductOrder => {
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
      return own.length > 0 && values.length === own.length ? sum(values) : null;
    };
    const { bought: known, ...rest } = term;
    const bought = known ?? null;
    const isPlanPriced = term.isPriced ?? true;
    const whole = orderLine({ ...rest, maps: own, ...(bought && { bought }) });
    const line = isPlanPriced ? whole : { ...whole, cost: whole.boughtCost };
    const toOrder = { supplier: term.supplier, tons: line.toOrderTons, cost: line.cost - line.boughtCost };
    return {
      supplier: term.supplier,
      line,
      bought: bought?.bySupplier ?? [],
      suppliers: bySupplier([...(bought?.bySupplier ?? []), toOrder]),
      isPriced: (bought?.isPriced ?? true) && (isPlanPriced || (bought !== null && line.toOrderTons === 0)),
      byField: [...new Set(own.map((map) => map.fieldId))].map((fieldId) => ({
        fieldId,
        stripLb: total(fieldId, "strip"),
        broadcastLb: total(fieldId, "broadcast"),
      })),
      lowLb: range((map) => map.lowLb),
      highLb: range((map) => map.highLb),
    };
  });
  const priced = products.filter((one) => one.isPriced);
  return {
    products,
    suppliers: bySupplier(products.flatMap(({ suppliers }) => suppliers)),
    cost: sum(products.map((one) => one.line.cost)),
    leftValue: sum(priced.map((one) => one.line.leftValue)),
    leftOnHandValue: sum(
      priced.map(({ line }) => (line.leftLb === 0 ? 0 : (line.leftValue * line.leftOnHandLb) / line.leftLb)),
    ),
  };
}

/** Each supplier once, those without tons left out. */
function bySupplier(shares: readonly SupplierShare[]): SupplierShare[] {
  const some = shares.filter((one) => one.tons > 0);
  return [...new Set(some.map(({ supplier }) => supplier))].map((supplier) => {
    const own = some.filter((one) => one.supplier === supplier);
    return { supplier, tons: sum(own.map((one) => one.tons)), cost: sum(own.map((one) => one.cost)) };
  });
}
