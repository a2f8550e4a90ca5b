import { operationsDefault } from "../capacity/index.ts";
import type { Plan } from "./document-types.ts";

/**
 * Shares applied twice and lost in handling: the plan's (the order's, else the overlap typed for the rig), else a published
 * mean and none. Order and fills use the same.
 */
export const orderShares = ({
  order,
  rig,
}: Pick<Plan, "order" | "rig">): { readonly overlapShare: number; readonly lossShare: number } => ({
  overlapShare:
    order?.overlapShare ??
    (rig.overlapPercent === undefined ? undefined : rig.overlapPercent / 100) ??
    operationsDefault("overlapShare").value,
  lossShare: order?.lossShare ?? operationsDefault("handlingLossShare").value,
});
