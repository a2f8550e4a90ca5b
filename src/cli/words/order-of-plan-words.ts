import { sum } from "../../numeric/index.ts";
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
  const costMore = (one: (typeof whatIf)[number]): number =>
    one.cost - order.products.find(({ line }) => line.product === one.product)!.line.cost;
  return [
    ...(book.length > 0 ? [`Still to order: ${still.join(", ")}`] : []),
    ...orderWords({ ...rest, ...(book.length > 0 ? { book } : {}) }),
    "The range spans the readings of the need (mapped test, mean of what it may be, mean of samples); no confidence interval.",
    ...whatIf.map((one) => {
      const all = usdText(order.cost + costMore(one));
      const alone = whatIf.length > 1 ? "all then, at this price alone," : "all then";
      return `${one.product} at ${usdText(one.usdPerTon)} a ton: ${usdText(one.cost)}, ${alone} ${all}`;
    }),
    ...(whatIf.length > 1
      ? [`At these prices together: all then ${usdText(order.cost + sum(whatIf.map(costMore)))}`]
      : []),
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
