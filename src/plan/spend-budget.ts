import { InputError, type Notice } from "../errors/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { productById } from "../products/index.ts";
import { acres, LB_PER_TON, numberText } from "../units/index.ts";
import type { Oxide, PlanBudget } from "./document-need-types.ts";
import type { Plan } from "./document-types.ts";
import { bringsOf, ownProducts, oxideIn, partsOf } from "./field-products.ts";
import type { Wanted } from "./need-result-types.ts";
import { ratesOf } from "./oxide-rates.ts";
import type { FieldGrid, NeedMap } from "./result-types.ts";

/** Where the money ends: cells below `priority` get all they want, those on it `share` of it, those above nothing. */
export interface BudgetCut {
  readonly priority: number;
  readonly share: number;
}

/** What a budget paid for. */
export interface Spent {
  readonly cut: BudgetCut;
  readonly notice: Notice;
}

/** A field as far as its place in the queue goes; wanted without a budget. */
export interface Wanting {
  readonly cells: FieldGrid;
  readonly need: NeedMap;
  readonly wanted: Wanted;
}

/** Share of a cell's rate that the budget pays. */
export function spends(cut: BudgetCut | null, priority: number): number {
  if (cut === null || priority < cut.priority) return 1;
  return priority === cut.priority ? cut.share : 0;
}

/**
 * Spend a budget over all fields, the lowest tests (as a share of their critical level) first, so that every acre below
 * critical comes before any above. Cells of one priority share alike. Null when the budget pays for all. Before rates
 * are averaged and stepped. Throws `budget-without-price` where a budget in $ meets a product without a price.
 */
export function spendBudget(plan: Plan, budget: PlanBudget, fields: readonly Wanting[]): Spent | null {
  const cost = costs(plan, budget);
  const total = "usd" in budget ? budget.usd : budget.lb;
  const byPriority = new Map<number, number>();
  let wantedInAll = 0;
  for (const { cells, need, wanted } of fields) {
    for (const nutrient of ["P2O5", "K2O"] as const) {
      const rates = ratesOf(wanted, nutrient);
      const { priority } = need[nutrient];
      cells.areaM2.forEach((areaM2, cell) => {
        if (!(areaM2 > 0 && rates[cell]! > 0)) return;
        const amount = rates[cell]! * acres(areaM2) * cost[nutrient];
        byPriority.set(priority[cell]!, (byPriority.get(priority[cell]!) ?? 0) + amount);
        wantedInAll += amount;
      });
    }
  }
  if (wantedInAll <= total) return null;
  let left = total;
  for (const [priority, amount] of [...byPriority].sort(([a], [b]) => a - b)) {
    if (amount > left) {
      const cut = { priority, share: left / amount };
      return { cut, notice: saidOf(budget, wantedInAll, cut) };
    }
    left -= amount;
  }
  return null;
}

/** $ or lb of product that a lb of oxide costs; nothing for an oxide that no bin brings. */
function costs(plan: Plan, budget: PlanBudget): Readonly<Record<Oxide, number>> {
  const cost = { P2O5: 0, K2O: 0 };
  const own = ownProducts(plan);
  const carriers = plan.rig.bins.flatMap(({ product }) => partsOf(plan, product));
  for (const id of [...new Set(carriers)]) {
    const product = productById(id, own);
    const nutrient = bringsOf(product);
    if (nutrient === "both" || nutrient === "neither" || cost[nutrient] > 0) continue;
    const lbProduct = 1 / oxideIn(product.grade, nutrient);
    const price = plan.pricesUsdPerTon?.[id];
    if ("usd" in budget && price === undefined) {
      throw new InputError(
        "budget-without-price",
        `the budget is in $ and ${id} has no price`,
        "Give pricesUsdPerTon for each product, or a budget in lb.",
      );
    }
    cost[nutrient] = "usd" in budget ? (lbProduct * price!) / LB_PER_TON : lbProduct;
  }
  return cost;
}

function saidOf(budget: PlanBudget, wanted: number, cut: BudgetCut): Notice {
  const text = (value: number) => numberText(value, 0);
  const [cap, all] =
    "usd" in budget
      ? [`$${text(budget.usd)}`, `$${text(wanted)}`]
      : [`${text(budget.lb)} lb`, `${text(wanted)} lb`];
  const ends =
    cut.priority < 1
      ? "it does not reach all acres below critical"
      : "all acres below critical are paid for, then the lowest tests above";
  return {
    code: "budget-spent",
    message: `the budget of ${cap} is less than the ${all} wanted: lowest tests first; ${ends}`,
    where: "budget",
  };
}

/** Share of a budget that the steps of the rates may go beyond before it is said. */
const STEPS_SHARE = 0.001;

/** Said when the files place more than the budget, since rates go by steps; nothing otherwise. */
export function budgetPassed(plan: Plan, placed: readonly Prescription[]): Notice[] {
  if (plan.budget === undefined) return [];
  const cost = costs(plan, plan.budget);
  const total = "usd" in plan.budget ? plan.budget.usd : plan.budget.lb;
  const spent = placed.reduce((sum, map) => {
    const { analysis } = map;
    const [p2o5, k2o] = [oxideIn(analysis, "P2O5") * cost.P2O5, oxideIn(analysis, "K2O") * cost.K2O];
    return sum + map.totalLb * (p2o5 + k2o);
  }, 0);
  if (spent <= (1 + STEPS_SHARE) * total) return [];
  const unit = "usd" in plan.budget ? "$" : "lb";
  const over = numberText(Math.ceil(spent - total), 0);
  return [
    {
      code: "budget-passed",
      message: `rates in steps place ${unit === "$" ? `$${over}` : `${over} lb`} more than the budget: lower it by as much, or make the steps finer`,
      where: "budget",
    },
  ];
}
