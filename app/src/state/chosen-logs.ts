import { batch, type Signal, signal } from "@preact/signals";
import type { Trouble } from "../engine/protocol.ts";
import type { AppliedView, ChosenLog } from "../engine/season-protocol.ts";
import { answerOrTrouble } from "./ask-season.ts";
import { chosenField } from "./look.ts";
import { plan } from "./opened.ts";

/** The logs that count: every one of them was read and lies in a field. */
export const chosenLogs: Signal<readonly ChosenLog[]> = signal([]);
/** What the worker told of them last; null until it has, and where they do not fit the plan any more. */
export const appliedShown: Signal<AppliedView | null> = signal(null);
/** Chosen and not read yet. */
export const logBeingRead: Signal<Pick<ChosenLog, "product" | "name"> | null> = signal(null);
/** The log chosen last where it could not be taken; what counted before it still counts. */
export const refusedLog: Signal<
  (Pick<ChosenLog, "product" | "name"> & { readonly field: string; readonly trouble: Trouble }) | null
> = signal(null);

/** What the figures shown are of. */
let shownOf: readonly unknown[] = [];

/** Whether the figures shown are those of these logs on this field by this plan. */
export const isShownOf = (...of: readonly [plan: unknown, field: string, logs: unknown]): boolean =>
  appliedShown.peek() !== null && of.every((one, i) => one === shownOf[i]);

export function showApplied(
  view: AppliedView | null,
  ...of: readonly [plan: unknown, field: string, logs: unknown]
): void {
  shownOf = of;
  appliedShown.value = view;
}

let trying: Promise<void> = Promise.resolve();

/** Read a log with those that count; it takes its place among them only when that went well. */
export function chooseLog(log: ChosenLog): void {
  trying = trying.then(() => tryLog(log));
}

async function tryLog(log: ChosenLog): Promise<void> {
  const field = chosenField.peek();
  const of = plan.peek();
  if (field === null || !of) return;
  const { product, name } = log;
  const logs = [...chosenLogs.peek().filter((one) => one.product !== product), log];
  batch(() => {
    refusedLog.value = null;
    logBeingRead.value = { product, name };
  });
  const heard = await answerOrTrouble({ kind: "applied", field, logs, isSaved: false });
  batch(() => {
    logBeingRead.value = null;
    if (heard.told?.kind === "applied") {
      showApplied(heard.told, of, field, logs);
      chosenLogs.value = logs;
    } else if (heard.trouble) refusedLog.value = { product, name, field, trouble: heard.trouble };
  });
}
