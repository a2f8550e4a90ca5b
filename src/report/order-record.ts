import { type OrderOfPlan, orderOfPlan, type RunResult } from "../plan/index.ts";
import { numberText, UNKNOWN } from "../units/index.ts";
import { flagged, heading, htmlTable, number, paragraph, sheetPage } from "./html.ts";
import { acresText, lbText } from "./numbers.ts";

/** Whether the plan has terms, a booking or prices to make a record of. */
export const hasOrderRecord = ({ plan }: RunResult): boolean =>
  plan.order !== undefined || plan.pricesUsdPerTon !== undefined;

/** The order with overlap, loss, stock and money, and the dated record of what is booked, as a page of the order sheet. */
export function orderRecordPage(result: RunResult): string {
  const order = orderOfPlan(result.plan, result.fields, { stands: result.stands });
  const inside = [
    flagged(order.notices.map((one) => one.message)),
    orderTable(order),
    paragraph(
      `Maps' pounds × (1 + ${numberText(100 * order.overlapShare, 1)} % overlap) ÷ (1 − ${numberText(100 * order.lossShare, 1)} % loss), less what is on hand; added up over the farm first, rounded once. The range spans the readings of the need; it is no confidence interval.`,
    ),
    order.book.length === 0 ? "" : heading("Booked and delivered") + bookTable(order),
    recordTable(result),
    paragraph(
      "Booked by ______________________     date ______________     price and supplier ______________________",
    ),
  ].join("");
  return sheetPage(
    result,
    {
      title: result.plan.name,
      under: `order record; ${acresText(result.acres)} ac`,
      sheet: "Order record",
    },
    inside,
  );
}

const usd = (value: number, isKnown: boolean): string => (isKnown ? `$${numberText(value, 0)}` : UNKNOWN);

function orderTable(order: OrderOfPlan): string {
  const allPriced = order.products.every(({ line }) => order.priced[line.product]);
  return htmlTable(
    [
      { title: "product" },
      { title: "supplier" },
      ...["in the maps, lb", "range, lb", "with overlap and loss, lb", "order, tons", "left, lb", "$"].map(
        number,
      ),
    ],
    order.products.map(({ supplier, line, lowLb, highLb }) => [
      line.product,
      supplier,
      lbText(line.netLb),
      lowLb === null ? UNKNOWN : `${lbText(lowLb)} to ${lbText(highLb!)}`,
      lbText(line.grossLb),
      numberText(line.orderTons, line.lotTons < 1 ? 1 : 0),
      lbText(line.leftLb),
      usd(line.cost, order.priced[line.product] === true),
    ]),
    [
      "all",
      "",
      "",
      "",
      "",
      numberText(
        order.suppliers.reduce((sum, one) => sum + one.tons, 0),
        1,
      ),
      "",
      usd(order.cost, allPriced),
    ],
  );
}

function bookTable(order: OrderOfPlan): string {
  return htmlTable(
    [
      { title: "product" },
      { title: "supplier" },
      ...["booked, tons", "$/ton", "delivered", "still due", "plan now", "up or down"].map(number),
    ],
    order.book.map((one) => [
      one.product,
      one.supplier,
      numberText(one.bookedTons, 1),
      one.bookedPricePerTon === null ? UNKNOWN : numberText(one.bookedPricePerTon, 0),
      numberText(one.deliveredTons, 1),
      numberText(one.dueTons, 1),
      one.plannedTons === null ? UNKNOWN : numberText(one.plannedTons, 1),
      one.changeTons === null ? UNKNOWN : `${one.changeTons > 0 ? "+" : ""}${numberText(one.changeTons, 1)}`,
    ]),
  );
}

/** Every line of the dated record; empty without one. */
function recordTable({ plan }: RunResult): string {
  const book = plan.order?.book ?? [];
  if (book.length === 0) return "";
  return (
    heading("Record") +
    htmlTable(
      [
        { title: "date" },
        { title: "" },
        { title: "product" },
        { title: "supplier" },
        number("tons"),
        number("$/ton"),
        { title: "ticket" },
      ],
      book.map((one) => [
        one.date,
        one.kind,
        one.product,
        one.supplier,
        numberText(one.tons, 2),
        one.pricePerTon === undefined ? UNKNOWN : numberText(one.pricePerTon, 0),
        one.ticket ?? "",
      ]),
    )
  );
}
