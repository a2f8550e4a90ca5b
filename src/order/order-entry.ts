/** One line of the dated record; nothing is ever taken out of it. */
export interface OrderEntry {
  /** 2026-02-14. */
  readonly date: string;
  readonly kind: "booked" | "cancelled" | "delivered";
  readonly product: string;
  readonly supplier: string;
  /** Of a delivery below 0 where it takes one back: a mistake, or product that went back. */
  readonly tons: number;
  /** Of a booking, or of the one that is cancelled. */
  readonly pricePerTon?: number;
  /** Of a delivery. */
  readonly ticket?: string;
}
