import { acres } from "../../units/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import type { Wanted } from "../results/need-result-types.ts";
import type { FieldGrid, NeedMap } from "../results/result-types.ts";

/** Where the money ends: cells below `priority` get all they want, those on it `share` of it, those above nothing. */
export interface BudgetCut {
  readonly priority: number;
  readonly share: number;
}

/** A field's cuts: of all that it wants, and of what is left to the spreader where that is cut lower; else null. */
export interface FieldCuts {
  readonly cut: BudgetCut | null;
  readonly spreadCut: BudgetCut | null;
}

/** Where nothing wants anything and what is held is above the budget by itself. */
export const NOTHING: BudgetCut = { priority: Number.NEGATIVE_INFINITY, share: 0 };

/** The cut of two that pays for less. */
export function lowerCut(a: BudgetCut, b: BudgetCut | null): BudgetCut {
  if (b === null || a.priority < b.priority) return a;
  return b.priority < a.priority || b.share < a.share ? b : a;
}

/** A field as far as its place in the queue goes; wanted without a budget. */
export interface Wanting {
  readonly cells: FieldGrid;
  readonly need: NeedMap;
  readonly wanted: Wanted;
}

/** What the cells want, added up by priority, first come first; in $ or in lb of product. */
export interface BudgetQueue {
  readonly inAll: number;
  readonly amounts: readonly (readonly [priority: number, amount: number])[];
}

/** Share of a cell's rate that the budget pays. */
export function spends(cut: BudgetCut | null, priority: number): number {
  if (cut === null || priority < cut.priority) return 1;
  return priority === cut.priority ? cut.share : 0;
}

/** All cells of all fields in the order in which a budget pays for them; `cost` is $ or lb of product a lb of oxide. */
export function queueOf(cost: Readonly<Record<Oxide, number>>, fields: readonly Wanting[]): BudgetQueue {
  const byPriority = new Map<number, number>();
  let inAll = 0;
  for (const { cells, need, wanted } of fields) {
    for (const nutrient of ["P2O5", "K2O"] as const) {
      const rates = ratesOf(wanted, nutrient);
      const { priority } = need[nutrient];
      cells.areaM2.forEach((areaM2, cell) => {
        if (!(areaM2 > 0 && rates[cell]! > 0)) return;
        const amount = rates[cell]! * acres(areaM2) * cost[nutrient];
        byPriority.set(priority[cell]!, (byPriority.get(priority[cell]!) ?? 0) + amount);
        inAll += amount;
      });
    }
  }
  return { inAll, amounts: [...byPriority].sort(([a], [b]) => a - b) };
}

/**
 * Where an amount ends that is spent on the lowest tests (as a share of their critical level) first, so that every acre below
 * critical comes before any above. Cells of one priority share alike. Null when it pays for all. Before rates are averaged
 * and stepped.
 */
export function cutAt({ inAll, amounts }: BudgetQueue, amount: number): BudgetCut | null {
  if (inAll <= amount) return null;
  let left = Math.max(0, amount);
  for (const [priority, wanted] of amounts) {
    if (wanted > left) return { priority, share: left / wanted };
    left -= wanted;
  }
  return null;
}
