import { operationsDefault } from "../capacity/index.ts";
import type { Plan } from "./document-types.ts";

/** Shares applied twice and lost in handling: the plan's, else a published mean and none. Order and fills use the same. */
export const orderShares = ({
  order,
}: Plan): { readonly overlapShare: number; readonly lossShare: number } => ({
  overlapShare: order?.overlapShare ?? operationsDefault("overlapShare").value,
  lossShare: order?.lossShare ?? operationsDefault("handlingLossShare").value,
});
