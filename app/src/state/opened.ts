import { batch, computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Answers, Plan } from "#core";
import type { NamedFile } from "../engine/protocol.ts";
import { drawnLater } from "./draw-later.ts";
import { beginHistory, type Edit, type History, letGo, redone, undone, undoneTo, withEdit } from "./edits.ts";
import type { Change } from "./plan-edits.ts";

/** The plan's surroundings: where it came from, and its files. */
export interface Opened {
  /** Names the session under which it is kept: `served: ...`, `scenario: ...`, `files: ...`. */
  readonly origin: string;
  readonly name: string;
  readonly files: readonly NamedFile[];
}

/** What the page keeps beside the plan. */
export interface Beside {
  /** Fields whose split was kept, with the split it was kept for. */
  readonly keptSplit: Readonly<Record<string, string>>;
  /** Fields whose files were taken away, with the plan they were taken from. */
  readonly taken: Readonly<Record<string, string>>;
}

export const nothingBeside: Beside = { keptSplit: {}, taken: {} };

export const opened: Signal<Opened | null> = signal(null);
export const history: Signal<History | null> = signal(null);
export const beside: Signal<Beside> = signal(nothingBeside);
/** Answers given on the page to questions that the plan's files raised. */
export const answers: Signal<Answers> = signal({});
/** The page has just been loaded, and looks for the plan to show. */
export const isOpening: Signal<boolean> = signal(true);
/** Another tab holds the plan: look, do not change. */
export const readOnly: Signal<boolean> = signal(false);
/** Rises with every edit the user makes, so that figures before it can be shown. */
export const editCount: Signal<number> = signal(0);
/** Rises with every plan that is opened: what was told of one before is not of this one. */
export const openings: Signal<number> = signal(0);

export const plan: ReadonlySignal<Plan | null> = computed(() => history.value?.plan ?? null);
export const lastEdit: ReadonlySignal<Edit | null> = computed(() => history.value?.past.at(-1) ?? null);
export const nextEdit: ReadonlySignal<Edit | null> = computed(() => history.value?.future[0] ?? null);

export function openPlan(what: Opened, begin: Plan | History, besides: Beside = nothingBeside): void {
  const open = () => {
    openings.value++;
    opened.value = what;
    answers.value = {};
    beside.value = besides;
    history.value = "past" in begin ? begin : beginHistory(begin);
  };
  drawnLater(() => batch(open));
}

/** Take a change into the plan; while a drag holds one grip its moves are one edit. */
export function edit({ name, plan: changed }: Change, grip: string | null = null): void {
  const now = history.value;
  if (!now || readOnly.value || changed === now.plan) return;
  if (grip === null || now.past.at(-1)?.grip !== grip) editCount.value++;
  history.value = withEdit(now, name, changed, grip);
}

export function endDrag(): void {
  if (history.value) history.value = letGo(history.value);
}

export function undo(): void {
  if (!history.value || readOnly.value) return;
  editCount.value++;
  history.value = undone(history.value);
}

/** Undo an edit of the past with all after it. */
export function undoTo(place: number): void {
  if (!history.value || readOnly.value) return;
  editCount.value++;
  history.value = undoneTo(history.value, place);
}

export function redo(): void {
  if (!history.value || readOnly.value) return;
  editCount.value++;
  history.value = redone(history.value);
}

export function putBeside(some: Partial<Beside>): void {
  if (!readOnly.value) beside.value = { ...beside.value, ...some };
}
