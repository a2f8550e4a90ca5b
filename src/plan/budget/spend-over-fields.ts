import { InputError } from "../../errors/index.ts";
import { type LedgerEntry, standingEntries } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { PlanBudget } from "../document/document-need-types.ts";
import { fieldProducts } from "../document/field-products.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import { type Settled, splitAsked } from "../maps/rate-field.ts";
import { askEveryField, askField, contextOf, type Work } from "../need/ask-field.ts";
import { type BudgetCut, cutAt, type FieldCuts, NOTHING, queueOf, spends } from "../need/spend-budget.ts";
import { PLACED_TOLERANCE } from "../stands/placed-surplus.ts";
import {
  type CostOf,
  costOfOxides,
  costOfSplit,
  costsIn,
  isCostByOxide,
  type SplitCost,
} from "./budget-costs.ts";
import {
  costOfDone,
  costToCome,
  type DoneField,
  doneByCut,
  doneInTurn,
  type QueuedField,
  wantingOf,
  withSpreadCut,
} from "./done-fields.ts";
import { cutThatCosts } from "./fit-cut.ts";

/** What a budget paid for, in its own unit. */
export interface Spent {
  /** Of fields that are not done; null where it pays for all that they want. */
  readonly cut: BudgetCut | null;
  /** Of each field that is done: as it was when the field was. */
  readonly doneCuts: ReadonlyMap<string, FieldCuts>;
  /** What all fields want, flat products with them. */
  readonly wanted: number;
  /** What is done takes, with what is still to come of it. */
  readonly doneCost: number;
  /** What of it is still to come: to be spread beside strips that are done, or strips beside what is spread. */
  readonly toCome: number;
  /** What the budget does not cut: what is done, and flat products. */
  readonly held: number;
  /** Whether ground below critical goes short; null where no ground is below critical. */
  readonly isShortBelow: boolean | null;
  /** How much of what is wanted has no test to be put in order by: an adviser's rates and typed ones. */
  readonly withoutTest: "all" | "some" | "none";
}

/** The cuts of one field. */
export const cutsOf = (spent: Spent | null, fieldId: string): FieldCuts =>
  spent?.doneCuts.get(fieldId) ?? { cut: spent?.cut ?? null, spreadCut: null };

/** What fields want, and the cut with which they take no more than an amount; null where it pays for all. */
interface Wants {
  readonly flat: number;
  readonly byNeed: number;
  readonly fit: (amount: number) => Promise<BudgetCut | null>;
}

/**
 * A budget is the whole plan's, so every field is asked what it wants before any gets something. What is done by the ledger
 * keeps the rates that it had when it was done, and is counted as it lies there; flat products come off next; the rest goes to
 * the lowest tests first, each pound at what brings it by the split. Where what is done comes to more than the budget, what is
 * still to be spread of it is cut. Null when the budget pays for all.
 * Throws `budget-without-price`.
 */
export async function spendOverFields(
  work: Work,
  budget: PlanBudget,
  settled: Settled,
  entries: readonly LedgerEntry[],
): Promise<Spent | null> {
  const { plan } = work;
  const total = "usd" in budget ? budget.usd : budget.lb;
  const costOf = costsIn(plan, budget, settled.blends);
  const all = (await askEveryField(work)).map(
    ({ field, asked }): QueuedField => ({
      ...{ field, asked },
      context: contextOf(work, field, plan.fields.indexOf(field) + 1, plan.fields.length),
    }),
  );
  const inAll = await wantsOf(work, all, settled, costOf);
  const lines = standingEntries(entries);
  let cut = await inAll.fit(total);
  let done: readonly DoneField[] = [];
  const wantsOfOpen = (): Promise<Wants> | Wants => {
    const open = all.filter(({ field }) => done.every((one) => one.field.id !== field.id));
    return done.length === 0 ? inAll : wantsOf(work, open, settled, costOf);
  };
  // What is done as it was reckoned with when the cuts were found.
  let reckoned = 0;
  const settle = async (linesThen: readonly LedgerEntry[]): Promise<void> => {
    // What meters miss by moves no map of another field: it may be on a stick by now.
    if (Math.abs(costOfDone(done, linesThen, costOf) - reckoned) <= PLACED_TOLERANCE * reckoned) return;
    const open = await wantsOfOpen();
    done = await withSpreadCut(work, done, linesThen, total - open.flat, settled, costOf);
    reckoned = costOfDone(done, linesThen, costOf);
    cut = await open.fit(total - reckoned);
  };
  for (const next of await doneInTurn(work, all, cut, settled, lines)) {
    // A field is done by the maps of its day: the cut that those done before it had left till then.
    await settle(lines.slice(0, next.doneBy));
    const one = await doneByCut(work, next, cut, settled);
    done = [...done, one];
    reckoned += sum(one.rated.maps.map(({ product, totalLb }) => totalLb * costOf(product)));
  }
  await settle(lines);
  const left = await wantsOfOpen();
  const doneCost = costOfDone(done, lines, costOf);
  const toCome = sum(done.map((one) => costToCome(one, lines, costOf)));
  const doneCuts = new Map(done.map(({ field, cut, spreadCut }) => [field.id, { cut, spreadCut }]));
  if (cut === null && done.every((one) => one.cut === null && one.spreadCut === null)) return null;
  const held = doneCost + left.flat;
  return {
    ...{ cut, doneCuts, doneCost, toCome, held },
    wanted: Math.max(inAll.flat + inAll.byNeed, held + left.byNeed),
    isShortBelow: isShortBelow(all, cut, done),
    withoutTest: withoutTest(all),
  };
}

async function wantsOf(
  work: Work,
  fields: readonly QueuedField[],
  settled: Settled,
  costOf: CostOf,
): Promise<Wants> {
  const { plan } = work;
  // A blend has no ratio in a field that is refused.
  const laid = fields[0] ? fieldProducts(plan, fields[0].field.id, settled.blends) : null;
  for (const { product } of laid?.bins ?? []) costOf(product.id);
  const queue = queueOf(laid ? costOfOxides(laid, costOf) : { P2O5: 0, K2O: 0 }, fields.map(wantingOf));
  const isByOxide = laid === null || isCostByOxide(plan, laid);
  const costAt = (cut: BudgetCut | null) => costOfCut(work, fields, cut, settled, costOf);
  const { flat, byNeed } = isByOxide ? { flat: 0, byNeed: queue.inAll } : await costAt(null);
  const fit = async (amount: number): Promise<BudgetCut | null> => {
    const room = amount - flat;
    if (byNeed <= room) return null;
    return (
      (isByOxide
        ? cutAt(queue, room)
        : await cutThatCosts(queue, room, byNeed, async (cut) => (await costAt(cut)).byNeed)) ?? NOTHING
    );
  };
  return { flat, byNeed, fit };
}

/** What fields take with a cut. One that cannot be split is refused by name in its own turn. */
async function costOfCut(
  work: Work,
  fields: readonly QueuedField[],
  cut: BudgetCut | null,
  settled: Settled,
  costOf: CostOf,
): Promise<SplitCost> {
  let [flat, byNeed] = [0, 0];
  for (const { field, context } of fields) {
    try {
      const asked = await askField(work, field, context, cut);
      const { laid, shares } = await splitAsked(work, field, context, asked, settled);
      const cost = costOfSplit(field, laid, asked.cells.value, asked.wanted.value, shares.value, costOf);
      flat += cost.flat;
      byNeed += cost.byNeed;
    } catch (error) {
      if (!(error instanceof InputError) || error.code === "budget-without-price") throw error;
    }
  }
  return { flat, byNeed };
}

/** Whether a cell below critical that wants something does not get all of it; null where there is none such. */
function isShortBelow(
  fields: readonly QueuedField[],
  cut: BudgetCut | null,
  done: readonly DoneField[],
): boolean | null {
  let isAny = false;
  for (const one of fields) {
    const { need, wanted, cells } = wantingOf(one);
    const asDone = done.find(({ field }) => field.id === one.field.id)?.rated.asked.wanted.value;
    for (const oxide of ["P2O5", "K2O"] as const) {
      const { isBelow, priority } = need[oxide];
      const rates = ratesOf(wanted, oxide);
      const gets = asDone === undefined ? null : ratesOf(asDone, oxide);
      for (let cell = 0; cell < isBelow.length; cell++) {
        if (isBelow[cell] === 0 || !(cells.areaM2[cell]! > 0 && rates[cell]! > 0)) continue;
        if (gets === null ? spends(cut, priority[cell]!) < 1 : gets[cell]! < (1 - 1e-9) * rates[cell]!)
          return true;
        isAny = true;
      }
    }
  }
  return isAny ? false : null;
}

/** Rates that no guide gave stand last in the queue, all in one place. */
function withoutTest(fields: readonly QueuedField[]): Spent["withoutTest"] {
  let [isAny, isOther] = [false, false];
  for (const one of fields) {
    const { need, wanted, cells } = wantingOf(one);
    for (const oxide of ["P2O5", "K2O"] as const) {
      const rates = ratesOf(wanted, oxide);
      if (!rates.some((rate, cell) => cells.areaM2[cell]! > 0 && rate > 0)) continue;
      if (need[oxide].rule === null) isAny = true;
      else isOther = true;
    }
  }
  return isAny ? (isOther ? "some" : "all") : "none";
}
