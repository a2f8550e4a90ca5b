import { operationsDefault } from "../../capacity/index.ts";
import type { Plan } from "../document/document-types.ts";

export interface OrderShares {
  readonly overlapShare: number;
  readonly isOverlapAssumed: boolean;
  readonly lossShare: number;
  readonly isLossAssumed: boolean;
}

/**
 * Shares applied twice and lost in handling: the plan's (the order's, else the overlap typed for the rig), else a published
 * mean and none. Order and fills use the same.
 */
export function orderShares({ order, rig }: Pick<Plan, "order" | "rig">): OrderShares {
  const overlap =
    order?.overlapShare ?? (rig.overlapPercent === undefined ? undefined : rig.overlapPercent / 100);
  return {
    overlapShare: overlap ?? operationsDefault("overlapShare").value,
    isOverlapAssumed: overlap === undefined,
    lossShare: order?.lossShare ?? operationsDefault("handlingLossShare").value,
    isLossAssumed: order?.lossShare === undefined,
  };
}
