import { type OrderOfPlan, orderOfPlan, type RunResult } from "../plan/index.ts";
import { numberText, signedText, UNKNOWN } from "../units/index.ts";
import { flagged, heading, htmlTable, list, number, paragraph, sheetPage } from "./html.ts";
import { acresText, lbText } from "./numbers.ts";
import {
  allUsdText,
  boughtTonsText,
  costText,
  isPartPlaced,
  orderSteps,
  suppliersText,
} from "./order-steps.ts";
import { escapeText } from "./svg.ts";

const BOUGHT_WORDS =
  "Bought is what is booked with each supplier, or what is delivered where that is more. Up or down is plan now less bought.";

/** Whether the plan has terms, a booking or prices to make a record of. */
export const hasOrderRecord = ({ plan }: Pick<RunResult, "plan">): boolean =>
  plan.order !== undefined || plan.pricesUsdPerTon !== undefined;

/** The order with overlap, loss, stock and money, and the dated record of what is booked, as a page of the order sheet. */
export function orderRecordPage(result: RunResult): string {
  const order = orderOfPlan(result.plan, result.fields, { stands: result.stands });
  const inside = [
    stillToOrder(order),
    flagged(order.notices.map((one) => one.message)),
    orderTable(order),
    list(orderSteps(order)),
    paragraph(
      `Maps' pounds × (1 + ${numberText(100 * order.overlapShare, 1)} % overlap) ÷ (1 − ${numberText(100 * order.lossShare, 1)} % loss), added up over the farm first, less what is on hand and what is bought, whoever sells it; what is then short is still to order, in whole lots of the product. Tons bought cost what they were booked at with that supplier, and that supplier's freight. The range spans the readings of the need; it is no confidence interval.`,
    ),
    list(shortWords(order)),
    order.book.length === 0
      ? ""
      : heading("Booked and delivered") + bookTable(order) + paragraph(BOUGHT_WORDS),
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

/** What is not bought yet, first of all; all of it where nothing is bought. */
function stillToOrder({ products }: OrderOfPlan): string {
  const tons = products.map(({ supplier, line }) =>
    line.toOrderTons === 0
      ? `${line.product}: nothing`
      : `${line.product} ${boughtTonsText(line.toOrderTons)} tons (${supplier})`,
  );
  return `<p><b>${escapeText(`Still to order, whole lots of what is short with all that is bought: ${tons.join("; ")}.`)}</b></p>`;
}

/** Where less is bought than the maps take: the maps stay as they are until somebody changes the plan. */
export const shortWords = (order: OrderOfPlan): string[] =>
  order.fit.map(
    (one) =>
      `${one.product}: ${lbText(one.boughtLb)} lb are bought and on hand, ${lbText(one.shortLb)} lb short of what the maps take with overlap and loss. The maps are not changed: order ${boughtTonsText(order.toOrderTons[one.product]!)} tons more, or lower the ceiling or the budget in the plan and build again.`,
  );

function orderTable(order: OrderOfPlan): string {
  const { usd, unpriced } = allUsdText(order);
  const tons = (part: "boughtTons" | "toOrderTons") =>
    boughtTonsText(order.products.reduce((sum, { line }) => sum + line[part], 0));
  return htmlTable(
    [
      { title: "product", isKept: true },
      { title: "supplier" },
      ...[
        isPartPlaced(order) ? "in the maps, still to place, lb" : "in the maps, lb",
        "range, lb",
        "with overlap and loss, lb",
        "on hand, lb",
        "bought, tons",
        "still to order, tons",
        "left, lb",
        "$",
      ].map(number),
    ],
    order.products.map((one) => [
      one.line.product,
      suppliersText(one),
      lbText(one.line.netLb),
      one.lowLb === null ? UNKNOWN : `${lbText(one.lowLb)} to ${lbText(one.highLb!)}`,
      lbText(one.line.grossLb),
      lbText(one.line.onHandLb),
      boughtTonsText(one.line.boughtTons),
      boughtTonsText(one.line.toOrderTons),
      lbText(one.line.leftLb),
      costText(one),
    ]),
    [
      "all",
      unpriced === "" || usd === UNKNOWN ? "" : `$ without ${unpriced}`,
      "",
      "",
      "",
      "",
      tons("boughtTons"),
      tons("toOrderTons"),
      "",
      usd,
    ],
  );
}

function bookTable(order: OrderOfPlan): string {
  return htmlTable(
    [
      { title: "product" },
      { title: "supplier" },
      ...["booked, tons", "$/ton", "delivered", "still due", "bought", "plan now", "up or down"].map(number),
    ],
    order.book.flatMap((one) => [
      bookedRow(one.product, one.supplier, one, [
        one.plannedTons === null ? UNKNOWN : numberText(one.plannedTons, 1),
        one.changeTons === null ? UNKNOWN : signedText(one.changeTons, 1),
      ]),
      ...(one.bySupplier.length < 2
        ? []
        : one.bySupplier.map((of) => bookedRow("of it", of.supplier, of, ["", ""]))),
    ]),
  );
}

type Booked = Omit<OrderOfPlan["book"][number]["bySupplier"][number], "supplier">;

/** A row of what is booked with a supplier: tons booked, $/ton, delivered, still due and bought, and what the plan has beside it. */
export const bookedRow = (
  product: string,
  supplier: string,
  of: Booked,
  plan: readonly string[],
): string[] => [
  product,
  supplier,
  boughtTonsText(of.bookedTons),
  of.bookedPricePerTon === null ? UNKNOWN : numberText(of.bookedPricePerTon, 0),
  boughtTonsText(of.deliveredTons),
  boughtTonsText(of.dueTons),
  boughtTonsText(of.boughtTons),
  ...plan,
];

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
