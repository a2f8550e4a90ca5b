import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import {
  bookedTiers,
  type OrderEntry,
  type OrderLine,
  type OrderStand,
  type OrderTotals,
  type ProductOrder,
  SAME_USD,
} from "../../order/index.ts";
import { LB_PER_TON, numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import { ratioNames } from "../document/field-products.ts";
import { typedPrices } from "../document/price-of-product.ts";
import { SAME_LB } from "../maps/small-rate.ts";

/** Tons that are worth a word. */
const NOTED_TONS = 0.005;
/** Half a pound: tons that are the same pounds. */
const SAME_TONS = 0.000_25;

/** What in the record of the order wants a look: a ticket twice, more delivered, cancelled or bought than there is to, another price. */
export function bookNotices(
  book: readonly OrderEntry[],
  stands: readonly OrderStand[],
  { products }: OrderTotals,
  plan: Plan,
): Notice[] {
  const prices = typedPrices(plan);
  return [
    ...bookedTwice(book),
    ...ticketsTwice(book),
    ...deliveredTwice(book),
    ...stands.flatMap((one) => takenBack(book, one)),
    ...stands.flatMap((one) => cancelledPrices(book, one)),
    ...stands.flatMap((one) => {
      const ordered = products.find(({ line }) => line.product === one.product)!;
      return [
        ...supplierNotices(one),
        ...beyondPlan(one, ordered, blendsWith(plan, one.product), ratioOf(plan, one.product)),
        ...otherPrice(one, ordered, prices[one.product], book),
      ];
    }),
  ];
}

/** Bookings alike in all they say; one that is cancelled in as many tons is none. */
function bookedTwice(book: readonly OrderEntry[]): Notice[] {
  const isLike = (one: OrderEntry, two: OrderEntry): boolean =>
    two.product === one.product && two.supplier === one.supplier && Math.abs(two.tons - one.tons) < SAME_TONS;
  return book.flatMap((one, i): Notice[] => {
    if (one.kind !== "booked") return [];
    const same = book
      .slice(0, i)
      .filter(
        (two) =>
          two.kind === "booked" &&
          two.date === one.date &&
          two.pricePerTon === one.pricePerTon &&
          isLike(one, two),
      );
    const gone = book.filter((two) => two.kind === "cancelled" && isLike(one, two));
    if (same.length <= gone.length) return [];
    const message = `${one.tons} tons ${one.product} of ${one.supplier} booked on ${one.date} stand twice, alike in price; both are counted`;
    return [notice("booking-twice", message)];
  });
}

/** A cancelled line whose price no booking has, or fewer tons of it. */
const cancelledPrices = (book: readonly OrderEntry[], { product, bySupplier }: OrderStand): Notice[] =>
  bySupplier.flatMap(({ supplier }) =>
    bookedTiers(book.filter((one) => one.product === product && one.supplier === supplier)).unmatched.map(
      ({ date, tons, pricePerTon }) =>
        notice(
          "cancelled-price-unused",
          `${product}, ${supplier}: the price of $${pricePerTon!.toFixed(2)} on the ${tons} tons cancelled on ${date} is not used: so many tons are not booked at it then. They come off all that is booked there alike`,
        ),
    ),
  );

function ticketsTwice(book: readonly OrderEntry[]): Notice[] {
  const delivered = deliveriesOf(book).filter((one) => one.ticket !== undefined);
  return delivered.flatMap((one, i): Notice[] => {
    const first = delivered
      .slice(0, i)
      .find(({ ticket, supplier }) => plain(ticket!) === plain(one.ticket!) && supplier === one.supplier);
    if (first === undefined) return [];
    const tons = ({ tons: t, product, date }: OrderEntry): string => `${t} tons ${product} on ${date}`;
    const message = `ticket ${one.ticket} of ${one.supplier} stands twice: ${tons(first)} and ${tons(one)}; both are counted`;
    return [{ code: "ticket-twice", message, where: "order.book" }];
  });
}

/** Deliveries that stand: one that is taken back whole, with its ticket or with none, is gone. */
function deliveriesOf(book: readonly OrderEntry[]): OrderEntry[] {
  const standing = book.filter((one) => one.kind === "delivered" && one.tons > 0);
  for (const back of book.filter((one) => one.kind === "delivered" && one.tons < 0)) {
    const at = standing.findLastIndex(
      (one) =>
        one.product === back.product &&
        one.supplier === back.supplier &&
        Math.abs(one.tons + back.tons) < SAME_TONS &&
        (back.ticket === undefined || plain(one.ticket ?? "") === plain(back.ticket)),
    );
    if (at >= 0) standing.splice(at, 1);
  }
  return standing;
}

/** Tickets as people write them: T1, t1, ` t1 `. */
const plain = (ticket: string): string => ticket.replaceAll(/\s/g, "").toUpperCase();

/** Deliveries of which one has no ticket to tell it from the other: same day, product, supplier and pounds. */
function deliveredTwice(book: readonly OrderEntry[]): Notice[] {
  const delivered = deliveriesOf(book);
  return delivered.flatMap((one, i): Notice[] => {
    const isSame = (two: OrderEntry): boolean =>
      two.date === one.date &&
      two.product === one.product &&
      two.supplier === one.supplier &&
      Math.abs(two.tons - one.tons) < SAME_TONS &&
      (two.ticket === undefined || one.ticket === undefined);
    if (!delivered.slice(0, i).some(isSame)) return [];
    const message = `${one.tons} tons ${one.product} of ${one.supplier} on ${one.date} stand twice and are not told apart by a ticket; both are counted`;
    return [{ code: "delivery-twice", message, where: "order.book" }];
  });
}

const notice = (code: string, message: string): Notice => ({ code, message, where: "order.book" });

function supplierNotices({ product, bySupplier }: OrderStand): Notice[] {
  return bySupplier.flatMap(({ supplier, bookedTons, beyondTons, overCancelledTons }) => {
    const than = bookedTons > 0 ? `than the ${bookedTons.toFixed(2)} booked` : "than booked, which is none";
    const beyond = `${beyondTons.toFixed(2)} tons more are delivered ${than}; they count as bought`;
    const over = `${overCancelledTons.toFixed(2)} tons more are cancelled than were booked and not yet delivered by then; they do not count. A delivery is taken back by one with a minus`;
    return [
      ...(beyondTons > NOTED_TONS
        ? [notice("delivered-beyond-booking", `${product}, ${supplier}: ${beyond}`)]
        : []),
      ...(overCancelledTons > NOTED_TONS
        ? [notice("cancelled-beyond-booking", `${product}, ${supplier}: ${over}`)]
        : []),
    ];
  });
}

/** What was taken back is due again, which is right for a mistake and wrong for product that went back for good. */
function takenBack(book: readonly OrderEntry[], { product, bySupplier }: OrderStand): Notice[] {
  return bySupplier.flatMap(({ supplier, dueTons }) => {
    const back = book.filter(
      (one) =>
        one.kind === "delivered" && one.tons < 0 && one.product === product && one.supplier === supplier,
    );
    const tons = Math.min(dueTons, -sum(back.map((one) => one.tons)));
    if (tons <= NOTED_TONS) return [];
    const message = `${product}, ${supplier}: ${tons.toFixed(2)} tons taken back are due again and count as bought; if they went back for good, add “cancelled” of as much`;
    return [notice("delivery-taken-back", message)];
  });
}

/** Blends of the plan that a product is a part of. */
const blendsWith = (plan: Plan, product: string): string[] =>
  (plan.blends ?? []).filter(({ of }) => of.includes(product)).map(({ id }) => id);

const partOf = (blends: readonly string[], but: string): string =>
  blends.length === 0 ? "" : `; it is a part of the blend ${blends.join(", ")}, and ${but}`;

/** Where a blend with several ratios is named as one: which names its tons go by. */
const ratioOf = (plan: Plan, product: string): string => {
  const blend = plan.blends?.find(({ id }) => id === product);
  const names = blend === undefined ? [] : ratioNames(blend);
  return names.length < 2 ? "" : `; its ratios are products of their own: name ${names.join(" or ")}`;
};

/** Stock of products that no map takes and that nothing is bought of. */
export const stockUnused = (plan: Plan, lines: readonly OrderLine[]): Notice[] =>
  lines.map(({ product, leftOnHandLb }) => ({
    code: "stock-without-use",
    message: `${product}: ${numberText(leftOnHandLb, 0)} lb are on hand and no map of this plan takes any: all of it counts as left over${partOf(blendsWith(plan, product), "no stock of a part is reckoned against a blend")}${ratioOf(plan, product)}`,
    where: "order",
  }));

/** Bought and for no map of this plan; or a whole lot and more beyond what its maps take. */
function beyondPlan(
  stand: OrderStand,
  ordered: ProductOrder,
  blends: readonly string[],
  ratio: string,
): Notice[] {
  const { product, supplier, boughtTons, deliveredTons, plannedTons } = stand;
  const { line, isPriced } = ordered;
  if (boughtTons <= NOTED_TONS) return [];
  const usd = (value: number): string => (isPriced ? `, $${numberText(value, 0)},` : "");
  const blend = partOf(
    blends,
    "nothing bought of a part is reckoned against a blend: order the blend or its parts, not both",
  );
  const add = (code: string, message: string): Notice[] => [
    notice(code, `${product}, ${supplier}: ${message}${blend}${ratio}`),
  ];
  if (plannedTons === null) {
    const placedLb = boughtTons * LB_PER_TON - line.boughtLeftLb;
    const lb = (value: number): string => `${numberText(value, 0)} lb`;
    const rest =
      placedLb < SAME_LB
        ? "all of it counts as left over"
        : `${lb(placedLb)} of it are placed by the ledger, ${lb(line.boughtLeftLb)}${usd((line.cost * line.boughtLeftLb) / (boughtTons * LB_PER_TON))} count as left over`;
    return add(
      "bought-without-use",
      `${boughtTons.toFixed(2)} tons${usd(line.cost)} are bought and no map of this plan takes any: ${rest}`,
    );
  }
  const over = boughtTons - plannedTons;
  if (over < Math.max(line.lotTons, 0.1)) return [];
  const left = `the plan now takes ${plannedTons.toFixed(2)}: ${over.toFixed(2)} tons${usd((line.leftValue * over * LB_PER_TON) / line.leftLb)} will be left`;
  return boughtTons - deliveredTons > NOTED_TONS
    ? add(
        "booked-beyond-plan",
        `${boughtTons.toFixed(2)} tons are bought, ${deliveredTons.toFixed(2)} of them delivered, and ${left}`,
      )
    : add("delivered-beyond-plan", `${deliveredTons.toFixed(2)} tons are delivered and ${left}`);
}

function otherPrice(
  { product, supplier, boughtTons, bookedPricePerTon }: OrderStand,
  { line }: ProductOrder,
  price: number | undefined,
  book: readonly OrderEntry[],
): Notice[] {
  if (bookedPricePerTon === null || price === undefined || boughtTons === 0) return [];
  if (Math.abs(bookedPricePerTon - price) < SAME_USD) return [];
  const rest =
    line.toOrderTons === 0 ? "" : `, what is still to order at the plan's price of $${price.toFixed(2)}`;
  const isWhole = book.every(
    (one) => one.product !== product || one.kind !== "booked" || one.pricePerTon !== undefined,
  );
  const counts = isWhole
    ? "what is booked counts at that"
    : "what is booked at no price counts at the plan's";
  const message = `${product}, ${supplier}: booked at $${bookedPricePerTon.toFixed(2)} a ton: ${counts}${rest}`;
  return [notice("booked-price-differs", message)];
}
