import { InputError } from "../../errors/index.ts";
import { fieldStands, type LedgerEntry } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { PlanField } from "../document/document-types.ts";
import type { StageContext } from "../document/stage.ts";
import { type RatedField, rateField, type Settled } from "../maps/rate-field.ts";
import { wantedToSpread } from "../maps/wanted-to-spread.ts";
import type { AskedField, Work } from "../need/ask-field.ts";
import { askField } from "../need/ask-field.ts";
import { type BudgetCut, lowerCut, NOTHING, queueOf, type Wanting } from "../need/spend-budget.ts";
import { finishedPasses, plannedFields } from "../stands/ledger-of-plan.ts";
import { isStripDone } from "../stands/placed-surplus.ts";
import { stillToPlaceLb } from "../stands/still-to-place.ts";
import { type CostOf, costOfField, costOfOxides, costOfSpread, isDone } from "./budget-costs.ts";
import { cutThatCosts } from "./fit-cut.ts";

/** A field of a plan with a budget, asked what it wants without one. */
export interface QueuedField {
  readonly field: PlanField;
  readonly context: StageContext;
  readonly asked: AskedField;
}

/** A field that is done, by the cuts that it keeps. */
export interface DoneField extends QueuedField {
  /** Place of the line with which it is done among those that count. */
  readonly doneBy: number;
  readonly cut: BudgetCut | null;
  /** Of what is left to the spreader, where that is cut lower than the strips were; else null. */
  readonly spreadCut: BudgetCut | null;
  readonly rated: RatedField;
}

/** A field's place in the queue. */
export const wantingOf = ({ asked }: QueuedField): Wanting => ({
  cells: asked.cells.value,
  need: asked.need.value,
  wanted: asked.wanted.value,
});

/** Fields that the lines have as done, in the order in which they came to be, by a cut. */
export async function doneInTurn(
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
    const rated = own.length === 0 ? null : await ratedBy(work, one, cut, null, settled);
    if (rated === null) continue;
    const { stripReachOf: _, ...planned } = plannedOf(one.field, rated);
    const doneBy = own.find((at) => {
      const then = lines.slice(0, at + 1);
      return isDone(fieldStands(then, [planned])[0]!, finishedPasses(then, id));
    });
    if (doneBy !== undefined) done.push({ ...one, rated, cut, spreadCut: null, doneBy });
  }
  return done.sort((a, b) => a.doneBy - b.doneBy);
}

/** The same field done by another cut. */
export async function doneByCut(
  work: Work,
  one: DoneField,
  cut: BudgetCut | null,
  settled: Settled,
): Promise<DoneField> {
  if (cut === one.cut) return one;
  return { ...one, cut, rated: (await ratedBy(work, one, cut, null, settled)) ?? one.rated };
}

/** Whether a line says that something was placed or finished in a field. */
const isOfField = (entry: LedgerEntry, fieldId: string): boolean =>
  (entry.kind === "placed" || entry.kind === "finished") && "fieldId" in entry && entry.fieldId === fieldId;

/** A field by its cuts; null where it is refused: by name in its own turn. */
const ratedBy = (
  work: Work,
  { field, context }: QueuedField,
  cut: BudgetCut | null,
  spreadCut: BudgetCut | null,
  settled: Settled,
): Promise<RatedField | null> =>
  rateField(work, field, context, { cut, spreadCut }, settled).catch((error: unknown) => {
    if (error instanceof InputError) return null;
    throw error;
  });

const plannedOf = (field: PlanField, { asked, passes, maps }: RatedField) =>
  plannedFields([{ field, checked: asked.checked.value, passes: passes.value, prescriptions: maps }])[0]!;

const standThen = ({ field, rated }: DoneField, lines: readonly LedgerEntry[]) =>
  fieldStands(lines, [plannedOf(field, rated)])[0]!;

/** What done fields take of the budget by the lines of the ledger till then. */
export const costOfDone = (
  done: readonly DoneField[],
  lines: readonly LedgerEntry[],
  costOf: CostOf,
): number =>
  sum(
    done.map((one) =>
      costOfField(one.rated.maps, standThen(one, lines), finishedPasses(lines, one.field.id), costOf),
    ),
  );

/** What of it is still to come: to be spread beside strips that are done, or strips beside what is spread. */
export const costToCome = (one: DoneField, lines: readonly LedgerEntry[], costOf: CostOf): number => {
  const stand = standThen(one, lines);
  const { maps } = one.rated;
  const toCome = maps.filter(({ pass }) => pass === "broadcast" || !isStripDone(stand));
  return sum(toCome.map((map) => stillToPlaceLb(map, maps, stand) * costOf(map.product)));
};

/**
 * Done fields with what is still to be spread of them cut so that all of them take no more than an amount by the lines till
 * then, lowest tests first; uncut where they do not, and never below what their strips bring.
 */
export async function withSpreadCut(
  work: Work,
  done: readonly DoneField[],
  lines: readonly LedgerEntry[],
  amount: number,
  settled: Settled,
  costOf: CostOf,
): Promise<DoneField[]> {
  const by = async (one: DoneField, spreadCut: BudgetCut | null): Promise<DoneField> => {
    if (spreadCut === one.spreadCut) return one;
    const rated = await ratedBy(work, one, one.cut, spreadCut, settled);
    return rated === null ? one : { ...one, spreadCut, rated };
  };
  // What is spread and finished was spread by the cut of its day.
  const isOpen = ({ field }: DoneField): boolean =>
    finishedPasses(lines, field.id).every(({ pass }) => pass !== "broadcast");
  const uncut: DoneField[] = [];
  for (const one of done) uncut.push(isOpen(one) ? await by(one, null) : one);
  const open = uncut.filter((one) => isOpen(one) && costToCome(one, lines, costOf) > 0);
  const over = costOfDone(uncut, lines, costOf) - amount;
  if (open.length === 0 || over <= 0) return uncut;
  const spreadAt = async (cut: BudgetCut | null): Promise<number> => {
    let cost = 0;
    for (const { rated, field, context, cut: own } of open) {
      const { laid, shares, asked } = rated;
      const cells = asked.cells.value;
      const lower =
        cut === null ? null : (await askField(work, field, context, lowerCut(cut, own))).wanted.value;
      const wanted = wantedToSpread(cells, asked.wanted.value, lower, shares.value);
      cost += costOfSpread(laid, cells, wanted, shares.value, costOf);
    }
    return cost;
  };
  const queue = queueOf(costOfOxides(open[0]!.rated.laid, costOf), open.map(wantingOf));
  const inAll = await spreadAt(null);
  const cut = inAll > over ? await cutThatCosts(queue, inAll - over, inAll, spreadAt) : null;
  const cutFields: DoneField[] = [];
  for (const one of uncut)
    cutFields.push(open.includes(one) ? await by(one, lowerCut(cut ?? NOTHING, one.cut)) : one);
  return cutFields;
}
