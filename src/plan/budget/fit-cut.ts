import { type BudgetCut, type BudgetQueue, cutAt } from "../need/spend-budget.ts";

/** Share of a budget to which a cut is to meet it, and how often one is tried. */
const NEAR = 1e-4;
const TRIES = 8;

/**
 * The cut with which the fields cost what there is room for, tried between nothing and all: what a lb of oxide costs hangs on
 * what of it the strip takes, and that on the cut. Where none meets it, the nearest below.
 */
export async function cutThatCosts(
  queue: BudgetQueue,
  room: number,
  inAll: number,
  costAt: (cut: BudgetCut | null) => Promise<number>,
): Promise<BudgetCut | null> {
  let below = { amount: 0, cost: 0, cut: cutAt(queue, 0) };
  let above = { amount: queue.inAll, cost: inAll };
  for (let at = 1; room > 0 && at <= TRIES; at++) {
    const part = at % 3 === 0 ? 0.5 : (room - below.cost) / (above.cost - below.cost);
    const amount = below.amount + part * (above.amount - below.amount);
    const cut = cutAt(queue, amount);
    const cost = await costAt(cut);
    if (cost > (1 + NEAR) * room) above = { amount, cost };
    else below = { amount, cost, cut };
    if (Math.abs(cost - room) <= NEAR * room) break;
  }
  return below.cut;
}
