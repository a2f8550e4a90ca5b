import { orderTotalsCsv } from "../order/index.ts";
import { orderOfPlan, type RunResult } from "../plan/index.ts";

/** The order with overlap, loss, stock, what is booked and still to order, and $, a line a product. */
export function orderRecordCsv({ plan, fields, stands }: RunResult): Uint8Array {
  const order = orderOfPlan(plan, fields, { stands });
  return orderTotalsCsv(order, order.book);
}
