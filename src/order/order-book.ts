import { requireNumber } from "../capacity/index.ts";
import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { bookedTiers, meanPrice, pricedTiers } from "./booked-tiers.ts";
import type { OrderEntry } from "./order-entry.ts";

/** What is booked and delivered of a product, of all suppliers or of one. */
interface BookedTons {
  /** Booked less cancelled; nothing is cancelled that is not booked or is delivered by then. */
  readonly bookedTons: number;
  readonly deliveredTons: number;
  /** Booked less delivered, not below 0; delivered beyond the booking; booked and delivered beyond it. Of all: the sums of the suppliers'. */
  readonly dueTons: number;
  readonly beyondTons: number;
  readonly boughtTons: number;
  /** Cancelled beyond what was booked and not yet delivered that day: does not count. */
  readonly overCancelledTons: number;
  /** Mean $ a ton of what is booked at a price, of what is delivered where nothing is booked; null without. */
  readonly bookedPricePerTon: number | null;
}

export interface OrderStand extends BookedTons {
  readonly product: string;
  /** Where it is booked, else where the plan buys it; several with commas. */
  readonly supplier: string;
  readonly bySupplier: readonly (BookedTons & { readonly supplier: string })[];
  /** Tons that the plan as it is now takes, in no lots, and up (above 0) or down against all that is bought; null where the plan has no such product. */
  readonly plannedTons: number | null;
  readonly changeTons: number | null;
}

/**
 * Where the order stands by product, whoever it is bought from, and by supplier, by the record and by the plan of today. A
 * product of the plan without a booking comes with its whole tons as change. Throws `number-not-usable` and
 * `delivered-below-nothing`.
 */
export function orderStand(
  entries: readonly OrderEntry[],
  planned: readonly { readonly product: string; readonly supplier: string; readonly tons: number }[],
): OrderStand[] {
  for (const { date, kind, product, tons } of entries)
    requireNumber(`tons ${kind} of ${date} ${product}`, kind === "delivered" ? Math.abs(tons) : tons);
  const products = [...new Set([...entries, ...planned].map(({ product }) => product))];
  return products.map((product) => {
    const own = entries.filter((entry) => entry.product === product);
    const wanted = planned.filter((one) => one.product === product);
    const known = own.length > 0 ? own : wanted;
    const bySupplier = [...new Set(known.map(({ supplier }) => supplier))].map((supplier) => ({
      supplier,
      ...bookedOf(own.filter((entry) => entry.supplier === supplier)),
    }));
    const plannedTons = wanted.length === 0 ? null : sum(wanted.map((one) => one.tons));
    const of = (tons: "bookedTons" | "deliveredTons" | "dueTons" | "beyondTons" | "overCancelledTons") =>
      sum(bySupplier.map((one) => one[tons]));
    const boughtTons = sum(bySupplier.map((one) => one.boughtTons));
    return {
      product,
      supplier: bySupplier.map(({ supplier }) => supplier).join(", "),
      bookedTons: of("bookedTons"),
      deliveredTons: of("deliveredTons"),
      dueTons: of("dueTons"),
      beyondTons: of("beyondTons"),
      boughtTons,
      overCancelledTons: of("overCancelledTons"),
      bookedPricePerTon: meanBooked(bySupplier),
      bySupplier,
      plannedTons,
      changeTons: plannedTons === null ? null : plannedTons - boughtTons,
    };
  });
}

/** Tons below that are roundings of sums. */
const NO_TONS = 1e-9;

/** Of one product and supplier. */
function bookedOf(own: readonly OrderEntry[]): BookedTons {
  const { bookedTons, deliveredTons: delivered, overCancelledTons } = bookedTiers(own);
  if (delivered < -NO_TONS) throw belowNothing(own, delivered);
  const deliveredTons = Math.max(0, delivered);
  const boughtTons = Math.max(bookedTons, deliveredTons);
  return {
    bookedTons,
    deliveredTons,
    dueTons: Math.max(0, bookedTons - deliveredTons),
    beyondTons: Math.max(0, deliveredTons - bookedTons),
    boughtTons,
    overCancelledTons,
    bookedPricePerTon: boughtTons > NO_TONS ? meanPrice(pricedTiers(own)) : null,
  };
}

/** Mean of the suppliers', each by what is booked there, by what is delivered where nothing is booked; null where none has a price. */
function meanBooked(suppliers: readonly BookedTons[]): number | null {
  const mean = (tons: "bookedTons" | "boughtTons"): number | null =>
    meanPrice(suppliers.map((one) => ({ tons: one[tons], pricePerTon: one.bookedPricePerTon ?? undefined })));
  return mean("bookedTons") ?? mean("boughtTons");
}

function belowNothing(own: readonly OrderEntry[], deliveredTons: number): InputError {
  const { product, supplier } = own[0]!;
  const back = own.findLast((one) => one.kind === "delivered" && one.tons < 0)!;
  return new InputError(
    "delivered-below-nothing",
    `${product}, ${supplier}: ${(-deliveredTons).toFixed(2)} tons more are taken back than are delivered (the last on ${back.date}: ${back.tons} tons)`,
    "A delivery below 0 takes back what is delivered from that supplier, no more: correct its tons or its supplier.",
  );
}
