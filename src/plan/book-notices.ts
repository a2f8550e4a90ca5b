import type { Notice } from "../errors/index.ts";
import type { OrderEntry, OrderStand } from "../order/index.ts";

/** Tons that rounding to a load's step leaves; less than that is no difference. */
const NOTED_TONS = 0.1;
/** Half a pound: tons that are the same pounds. */
const SAME_TONS = 0.000_25;

/** What in the record of the order wants a look: a ticket twice, more delivered than booked or wanted, another price. */
export function bookNotices(
  book: readonly OrderEntry[],
  stands: readonly OrderStand[],
  prices: Readonly<Partial<Record<string, number>>>,
): Notice[] {
  return [
    ...ticketsTwice(book),
    ...deliveredTwice(book),
    ...stands.flatMap((one) => standNotices(one, prices[one.product])),
  ];
}

function ticketsTwice(book: readonly OrderEntry[]): Notice[] {
  const delivered = book.filter((one) => one.kind === "delivered" && one.ticket !== undefined);
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

/** Tickets as people write them: T1, t1, ` t1 `. */
const plain = (ticket: string): string => ticket.replaceAll(/\s/g, "").toUpperCase();

/** Deliveries of which one has no ticket to tell it from the other: same day, product, supplier and pounds. */
function deliveredTwice(book: readonly OrderEntry[]): Notice[] {
  const delivered = book.filter((one) => one.kind === "delivered");
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

function standNotices(stand: OrderStand, price: number | undefined): Notice[] {
  const { product, supplier, bySupplier, deliveredTons, plannedTons, bookedPricePerTon } = stand;
  const notices: Notice[] = [];
  const add = (code: string, message: string, from = supplier): void => {
    notices.push({ code, message: `${product}, ${from}: ${message}`, where: "order.book" });
  };
  for (const { supplier: from, bookedTons, beyondTons } of bySupplier) {
    if (beyondTons <= 0.005) continue;
    const than = bookedTons > 0 ? `than the ${bookedTons.toFixed(2)} booked` : "than booked, which is none";
    add(
      "delivered-beyond-booking",
      `${beyondTons.toFixed(2)} tons more are delivered ${than}; they count as bought`,
      from,
    );
  }
  if (plannedTons !== null && deliveredTons > plannedTons + NOTED_TONS) {
    const over = (deliveredTons - plannedTons).toFixed(2);
    add(
      "delivered-beyond-plan",
      `${deliveredTons.toFixed(2)} tons are delivered and the plan now takes ${plannedTons.toFixed(2)}: ${over} tons will be left`,
    );
  }
  if (bookedPricePerTon !== null && price !== undefined && Math.abs(bookedPricePerTon - price) >= 0.005)
    add(
      "booked-price-differs",
      `booked at $${bookedPricePerTon.toFixed(2)} a ton: what is booked counts at that, what is still to order at the plan's price of $${price.toFixed(2)}`,
    );
  return notices;
}
