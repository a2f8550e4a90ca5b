export { bookedTiers, SAME_USD } from "./booked-tiers.ts";
export { type Bought, type BoughtShare, boughtOf, type PlanPrice } from "./bought.ts";
export { type FitPart, type FitResult, fitToBought } from "./fit-to-bought.ts";
export { loadSchedule, type ScheduledLoad } from "./load-schedule.ts";
export { type OrderStand, orderStand } from "./order-book.ts";
export type { OrderEntry } from "./order-entry.ts";
export {
  nutrientPrice,
  type OrderLine,
  type OrderLineInput,
  orderLine,
  USUAL_LOT_TONS,
  whatIfCost,
} from "./order-line.ts";
export {
  type OrderMap,
  type OrderTerms,
  type OrderTotals,
  orderTotals,
  type ProductOrder,
  type SupplierShare,
} from "./order-totals.ts";
export { orderTotalsCsv } from "./order-totals-csv.ts";
export { oneNameEach } from "./supplier-names.ts";
export { bridgeLimitLb, federalLimitsLb, truckLoadTons } from "./truck-load.ts";
