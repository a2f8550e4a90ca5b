import { batch, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Trouble } from "../engine/protocol.ts";
import type { AppliedView, ChosenLog } from "../engine/season-protocol.ts";
import { answerOrTrouble } from "./ask-season.ts";
import { type ByField, byField } from "./by-field.ts";
import { chosenField } from "./look.ts";
import { opened, openings, plan } from "./opened.ts";

const logs: ByField<readonly ChosenLog[]> = byField<readonly ChosenLog[]>([]);
/** The logs of the chosen field that count: every one of them was read and lies in it. */
export const chosenLogs: ReadonlySignal<readonly ChosenLog[]> = logs.chosen;
/** What the worker told of them last; null until it has, and where they do not fit the plan any more. */
export const appliedShown: Signal<AppliedView | null> = signal(null);
/** Chosen and not read yet. */
export const logBeingRead: Signal<(Pick<ChosenLog, "product" | "name"> & { readonly field: string }) | null> =
  signal(null);
/** The log chosen last where it could not be taken; what counted before it still counts. */
export const refusedLog: Signal<
  (Pick<ChosenLog, "product" | "name"> & { readonly field: string; readonly trouble: Trouble }) | null
> = signal(null);

/** What the figures shown are of: the plan with its files, the ledger among them, a field and its logs. */
type ShownOf = readonly [plan: unknown, files: unknown, field: string, logs: unknown];
let shownOf: readonly unknown[] = [];

/** Whether the figures shown are those of these logs on this field by this plan. */
export const isShownOf = (...of: ShownOf): boolean =>
  appliedShown.peek() !== null && of.every((one, i) => one === shownOf[i]);

export function showApplied(view: AppliedView | null, ...of: ShownOf): void {
  shownOf = of;
  appliedShown.value = view;
}

let trying: Promise<void> = Promise.resolve();

/** Read a log of a field with those of it that count; it takes its place among them only when that went well. */
export function chooseLog(field: string, log: ChosenLog): void {
  const opening = openings.peek();
  trying = trying.then(() => tryLog(field, log, opening));
}

async function tryLog(field: string, log: ChosenLog, opening: number): Promise<void> {
  const of = plan.peek();
  if (opening !== openings.peek() || !of) return;
  const files = opened.peek()?.files;
  const { product, name } = log;
  const tried = [...logs.of(field).filter((one) => one.product !== product), log];
  batch(() => {
    refusedLog.value = null;
    logBeingRead.value = { product, name, field };
  });
  const heard = await answerOrTrouble({ kind: "applied", field, logs: tried, isSaved: false });
  batch(() => {
    logBeingRead.value = null;
    if (opening !== openings.peek()) return;
    if (heard.told?.kind === "applied") {
      if (field === chosenField.peek()) showApplied(heard.told, of, files, field, tried);
      logs.put(field, tried);
    } else if (heard.trouble) refusedLog.value = { product, name, field, trouble: heard.trouble };
  });
}
