import type { OrderOfPlan } from "../../plan/index.ts";
import { lbText } from "../../report/index.ts";
import { numberText } from "../../units/index.ts";
import { orderWords, usdText } from "./order-words.ts";

/** The order of a plan. */
export function orderOfPlanWords(order: OrderOfPlan): string[] {
  const { book, whatIf, fit, ...rest } = order;
  return [
    ...orderWords({ ...rest, ...(book.length > 0 ? { book } : {}) }, order.priced),
    "The range spans the readings of the need (mapped test, mean of what it may be, mean of samples); no confidence interval.",
    ...whatIf.map((one) => `${one.product} at ${usdText(one.usdPerTon)} a ton: ${usdText(one.cost)}`),
    ...order.products.flatMap(({ line, byField }) =>
      byField.length > 12
        ? []
        : byField.map(
            (one) =>
              `  ${line.product}, ${one.fieldId}: strip ${lbText(one.stripLb)} lb, broadcast ${lbText(one.broadcastLb)} lb`,
          ),
    ),
    ...fit.flatMap((one) => [
      `${one.product}, fitted to what is booked and on hand (${lbText(one.boughtLb)} lb): ${lbText(one.cutLb)} lb cut; kept ${one.layers.map(({ layer, keptShare }) => `${layer} ${numberText(100 * keptShare, 0)} %`).join(", ")}`,
      ...(one.byField.length > 12
        ? []
        : one.byField.map(
            (field) => `  ${field.fieldId}: ${lbText(field.keptLb)} of ${lbText(field.lb)} lb`,
          )),
    ]),
    ...order.notices.map((one) => `Notice: ${one.message}`),
  ];
}
