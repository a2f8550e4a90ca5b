import type { OrderOfPlan } from "../../plan/index.ts";
import { boughtTonsText, lbText, shortWords, usdText } from "../../report/index.ts";
import { numberText } from "../../units/index.ts";
import { orderWords } from "./order-words.ts";

/** The order of a plan. */
export function orderOfPlanWords(order: OrderOfPlan): string[] {
  const { book, whatIf, fit, toOrderTons, ...rest } = order;
  const short = shortWords(order);
  const still = Object.entries(toOrderTons).map(
    ([product, tons]) => `${product} ${boughtTonsText(tons)} tons`,
  );
  return [
    ...(book.length > 0 ? [`Still to order: ${still.join(", ")}`] : []),
    ...orderWords({ ...rest, ...(book.length > 0 ? { book } : {}) }),
    "The range spans the readings of the need (mapped test, mean of what it may be, mean of samples); no confidence interval.",
    ...whatIf.map((one) => {
      const { line } = order.products.find((other) => other.line.product === one.product)!;
      const all = usdText(order.cost - line.cost + one.cost);
      return `${one.product} at ${usdText(one.usdPerTon)} a ton: ${usdText(one.cost)}, all then ${all}`;
    }),
    ...order.products.flatMap(({ line, byField }) =>
      byField.length > 12
        ? []
        : byField.map(
            (one) =>
              `  ${line.product}, ${one.fieldId}${line.placedLb > 0 ? ", still to place" : ""}: strip ${lbText(one.stripLb)} lb, broadcast ${lbText(one.broadcastLb)} lb`,
          ),
    ),
    ...fit.flatMap((one, k) => [
      `${short[k]} Fitted to it they would keep ${one.layers.map(({ layer, keptShare }) => `${layer} ${numberText(100 * keptShare, 0)} %`).join(", ")}`,
      ...(one.byField.length > 12
        ? []
        : one.byField.map(
            (field) => `  ${field.fieldId}: ${lbText(field.keptLb)} of ${lbText(field.lb)} lb`,
          )),
    ]),
    ...order.notices.map((one) => `Notice: ${one.message}`),
  ];
}
