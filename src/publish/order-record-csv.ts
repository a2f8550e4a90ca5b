import { orderTotalsCsv } from "../order/index.ts";
import { orderOfPlan, type RunResult } from "../plan/index.ts";

/** The order with overlap, loss, stock, rounding and $, a line a product. */
export const orderRecordCsv = (result: RunResult): Uint8Array =>
  orderTotalsCsv(orderOfPlan(result.plan, result.fields, { stands: result.stands }));
