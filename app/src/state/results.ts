import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Progress, Question, ReadOut } from "#core";
import type {
  FarmView,
  FieldLine,
  FieldView,
  Ground,
  LonLat,
  NeedExplained,
  Outline,
  PassLines,
  Trouble,
} from "../engine/protocol.ts";

/** The chosen field as worked out last; ground and passes stay from the message that brought them. */
interface ShownField extends FieldView {
  readonly ground: Ground;
}

export const field: Signal<ShownField | null> = signal(null);
export const farm: Signal<FarmView | null> = signal(null);
/** Fields worked out while the farm is on its way for the first time. */
export const soFar: Signal<readonly FieldLine[]> = signal([]);
export const outlines: Signal<readonly Outline[]> = signal([]);
export const progress: Signal<Progress | null> = signal(null);
/** What came in the way of something asked for beside the work: files to take, a stick. */
export const trouble: Signal<Trouble | null> = signal(null);
export const questions: Signal<readonly Question[]> = signal([]);

/** Why the plan as it stands could not be worked out; the figures there are belong to the plan before. */
export interface Refusal {
  /** The chosen field, or the farm once that field was worked out. */
  readonly of: "field" | "farm";
  /** The other fields are worked out by the plan as it stands. */
  readonly isFarmKnown: boolean;
  /** Files alone could not be written: what is shown of the farm is by the plan as it stands. */
  readonly isOfFiles: boolean;
  /** Null where questions are open. */
  readonly trouble: Trouble | null;
  readonly questions: readonly Question[];
}

/** Stands until the plan is worked out again. Nothing is written, saved or printed till then. */
export const refusal: Signal<Refusal | null> = signal(null);
/** No figures of the farm are by the plan as it stands. */
export const isFarmRefused: ReadonlySignal<boolean> = computed(
  () => refusal.value !== null && !refusal.value.isFarmKnown,
);
/** The figures on the page belong to an older plan than the one shown. */
export const isBehind: Signal<boolean> = signal(false);
/** Everything asked for is worked out, and the chosen field's files are written and read back. */
export const isDone: Signal<boolean> = signal(false);
/** Stop was pressed: the maps show the plan before the last change. */
export const isStopped: Signal<boolean> = signal(false);

interface Pointed {
  readonly at: LonLat;
  readonly readOut: ReadOut | null;
  /** Of the state that is compared with; null where none is. */
  readonly before: ReadOut | null;
  readonly explained: NeedExplained | null;
  readonly pinned: boolean;
}

export const pointed: Signal<Pointed | null> = signal(null);

/** Take a field's message in; what was not sent again stands. */
export function takeField(view: FieldView): ShownField | null {
  const before = field.peek();
  const isSame = before?.id === view.id;
  const ground = view.ground ?? (isSame ? before.ground : null);
  if (!ground) return null;
  const passes: PassLines | null = view.passes ?? (isSame ? before.passes : null);
  const tests = view.tests.length === 0 && isSame ? before.tests : view.tests;
  return { ...view, ground, passes, tests };
}
