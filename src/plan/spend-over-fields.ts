import { InputError } from "../errors/index.ts";
import { fieldStands, type LedgerEntry, type PlannedField, standingEntries } from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { type AskedField, askEveryField, askField, contextOf, type Work } from "./ask-field.ts";
import {
  type CostOf,
  costOfField,
  costOfOxides,
  costOfSplit,
  costsIn,
  isCostByOxide,
  isDone,
  type SplitCost,
} from "./budget-costs.ts";
import type { PlanBudget } from "./document-need-types.ts";
import type { PlanField } from "./document-types.ts";
import { fieldProducts } from "./field-products.ts";
import { finishedPasses, plannedFields } from "./ledger-of-plan.ts";
import { ratesOf } from "./oxide-rates.ts";
import { PLACED_TOLERANCE } from "./placed-surplus.ts";
import { rateField, type Settled, splitAsked } from "./rate-field.ts";
import { type BudgetCut, type BudgetQueue, cutAt, queueOf, spends, type Wanting } from "./spend-budget.ts";
import type { StageContext } from "./stage.ts";

/** What a budget paid for, in its own unit. */
export interface Spent {
  /** Of fields that are not done; null where it pays for all that they want. */
  readonly cut: BudgetCut | null;
  /** Of each field that is done: as it was when the field was. */
  readonly doneCuts: ReadonlyMap<string, BudgetCut | null>;
  /** What all fields want, flat products with them. */
  readonly wanted: number;
  /** What is done takes. */
  readonly doneCost: number;
  /** What the budget does not cut: what is done, and flat products. */
  readonly held: number;
  /** Whether ground below critical goes short; null where no ground is below critical. */
  readonly isShortBelow: boolean | null;
}

/** The cut of one field. */
export function cutOf(spent: Spent | null, fieldId: string): BudgetCut | null {
  if (spent === null) return null;
  return spent.doneCuts.has(fieldId) ? spent.doneCuts.get(fieldId)! : spent.cut;
}

/** Where nothing wants anything and what is held is above the budget by itself. */
const NOTHING: BudgetCut = { priority: Number.NEGATIVE_INFINITY, share: 0 };

interface QueuedField {
  readonly field: PlanField;
  readonly context: StageContext;
  readonly asked: AskedField;
}

/** What fields want, and the cut with which they take no more than an amount; null where it pays for all. */
interface Wants {
  readonly flat: number;
  readonly byNeed: number;
  readonly fit: (amount: number) => Promise<BudgetCut | null>;
}

/** A field that is done: since which of the lines that count, and its maps by the cut that it keeps. */
interface DoneField extends QueuedField {
  readonly sinceLine: number;
  readonly cut: BudgetCut | null;
  readonly maps: readonly Prescription[];
  readonly planned: PlannedField;
}

/** Share of a budget to which a cut is to meet it, and how often one is tried. */
const NEAR = 1e-4;
const TRIES = 8;

/**
 * A budget is the whole plan's, so every field is asked what it wants before any gets something. What is done by the ledger
 * keeps the rates that it had when it was done, and is counted as it lies there; flat products come off next; the rest goes to
 * the lowest tests first, each pound at what brings it by the split. Null when the budget pays for all.
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
  const done: DoneField[] = [];
  const wantsOfOpen = (): Promise<Wants> | Wants => {
    const open = all.filter(({ field }) => done.every((one) => one.field.id !== field.id));
    return done.length === 0 ? inAll : wantsOf(work, open, settled, costOf);
  };
  // What is done as it was reckoned with when the cut was found.
  let reckoned = 0;
  const settle = async (linesThen: readonly LedgerEntry[]): Promise<number> => {
    const lies = sum(done.map((one) => costThen(one, linesThen, costOf)));
    // What meters miss by moves no map of another field: it may be on a stick by now.
    if (Math.abs(lies - reckoned) <= PLACED_TOLERANCE * reckoned) return lies;
    cut = await (await wantsOfOpen()).fit(total - lies);
    reckoned = lies;
    return lies;
  };
  for (const next of await doneInTurn(work, all, cut, settled, lines)) {
    // A field is done by the maps of its day: the cut that those done before it had left till then.
    await settle(lines.slice(0, next.sinceLine));
    const { maps, planned } = next.cut === cut ? next : ((await ratedBy(work, next, cut, settled)) ?? next);
    done.push({ ...next, cut, maps, planned });
    reckoned += sum(maps.map(({ product, totalLb }) => totalLb * costOf(product)));
  }
  const doneCost = await settle(lines);
  const left = await wantsOfOpen();
  const doneCuts = new Map(done.map(({ field, cut }) => [field.id, cut]));
  if (cut === null && [...doneCuts.values()].every((one) => one === null)) return null;
  const held = doneCost + left.flat;
  return {
    ...{ cut, doneCuts, doneCost, held },
    wanted: Math.max(inAll.flat + inAll.byNeed, held + left.byNeed),
    isShortBelow: isShortBelow(all, (id) => (doneCuts.has(id) ? doneCuts.get(id)! : cut)),
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
    return (isByOxide ? cutAt(queue, room) : await cutThatCosts(queue, room, byNeed, costAt)) ?? NOTHING;
  };
  return { flat, byNeed, fit };
}

const wantingOf = ({ asked }: QueuedField): Wanting => ({
  cells: asked.cells.value,
  need: asked.need.value,
  wanted: asked.wanted.value,
});

/** Fields that the lines have as done, in the order in which they came to be, by the maps of a cut. */
async function doneInTurn(
  work: Work,
  all: readonly QueuedField[],
  cut: BudgetCut | null,
  settled: Settled,
  lines: readonly LedgerEntry[],
): Promise<DoneField[]> {
  const done: DoneField[] = [];
  for (const one of all) {
    const { id } = one.field;
    const own = [...lines.keys()].filter((at) => isOfField(lines[at]!, id));
    const rated = own.length === 0 ? null : await ratedBy(work, one, cut, settled);
    if (rated === null) continue;
    const { stripReachOf: _, ...planned } = rated.planned;
    const sinceLine = own.find((at) => {
      const then = lines.slice(0, at + 1);
      return isDone(fieldStands(then, [planned])[0]!, finishedPasses(then, id));
    });
    if (sinceLine !== undefined) done.push({ ...one, ...rated, cut, sinceLine });
  }
  return done.sort((a, b) => a.sinceLine - b.sinceLine);
}

/** Whether a line says that something was placed or finished in a field. */
const isOfField = (entry: LedgerEntry, fieldId: string): boolean =>
  (entry.kind === "placed" || entry.kind === "finished") && "fieldId" in entry && entry.fieldId === fieldId;

/** A field's maps by a cut; null where it is refused: by name in its own turn. */
async function ratedBy(
  work: Work,
  { field, context }: QueuedField,
  cut: BudgetCut | null,
  settled: Settled,
): Promise<Pick<DoneField, "maps" | "planned"> | null> {
  const rated = await rateField(work, field, context, cut, settled).catch((error: unknown) => {
    if (error instanceof InputError) return null;
    throw error;
  });
  if (rated === null) return null;
  const { asked, passes, maps } = rated;
  const of = { field, checked: asked.checked.value, passes: passes.value, prescriptions: maps };
  return { maps, planned: plannedFields([of])[0]! };
}

/** What a done field takes of the budget by the lines of the ledger till then. */
const costThen = (
  { field, maps, planned }: DoneField,
  lines: readonly LedgerEntry[],
  costOf: CostOf,
): number => costOfField(maps, fieldStands(lines, [planned])[0]!, finishedPasses(lines, field.id), costOf);

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

/**
 * The cut with which the fields cost what there is room for, tried between nothing and all: what a lb of oxide costs hangs on
 * what of it the strip takes, and that on the cut. Where none meets it, the nearest below.
 */
async function cutThatCosts(
  queue: BudgetQueue,
  room: number,
  inAll: number,
  costAt: (cut: BudgetCut | null) => Promise<SplitCost>,
): Promise<BudgetCut | null> {
  let below = { amount: 0, cost: 0, cut: cutAt(queue, 0) };
  let above = { amount: queue.inAll, cost: inAll };
  for (let at = 1; room > 0 && at <= TRIES; at++) {
    const part = at % 3 === 0 ? 0.5 : (room - below.cost) / (above.cost - below.cost);
    const amount = below.amount + part * (above.amount - below.amount);
    const cut = cutAt(queue, amount);
    const cost = (await costAt(cut)).byNeed;
    if (cost > (1 + NEAR) * room) above = { amount, cost };
    else below = { amount, cost, cut };
    if (Math.abs(cost - room) <= NEAR * room) break;
  }
  return below.cut;
}

/** Whether a cell below critical that wants something does not get all of it; null where there is none such. */
function isShortBelow(
  fields: readonly QueuedField[],
  cutOfField: (fieldId: string) => BudgetCut | null,
): boolean | null {
  let isAny = false;
  for (const one of fields) {
    const { need, wanted, cells } = wantingOf(one);
    const cut = cutOfField(one.field.id);
    for (const oxide of ["P2O5", "K2O"] as const) {
      const { isBelow, priority } = need[oxide];
      const rates = ratesOf(wanted, oxide);
      for (let cell = 0; cell < isBelow.length; cell++) {
        if (isBelow[cell] === 0 || !(cells.areaM2[cell]! > 0 && rates[cell]! > 0)) continue;
        if (spends(cut, priority[cell]!) < 1) return true;
        isAny = true;
      }
    }
  }
  return isAny ? false : null;
}
