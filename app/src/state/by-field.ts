import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { chosenField } from "./look.ts";
import { openings } from "./opened.ts";

/** What was typed or chosen for one field: no other field has it, and with another plan opened it is gone. */
export interface ByField<Of> {
  /** Of the chosen field. */
  readonly chosen: ReadonlySignal<Of>;
  readonly of: (field: string) => Of;
  readonly put: (field: string, what: Of) => void;
}

export function byField<Of>(none: Of): ByField<Of> {
  const held: Signal<{ readonly opening: number; readonly by: Readonly<Record<string, Of>> }> = signal({
    opening: 0,
    by: {},
  });
  const current = () => (held.value.opening === openings.value ? held.value.by : {});
  const chosen = computed(() => {
    const id = chosenField.value;
    return id === null ? none : (current()[id] ?? none);
  });
  return {
    chosen,
    of: (field) => (held.peek().opening === openings.peek() ? (held.peek().by[field] ?? none) : none),
    put: (field, what) => {
      const before = held.peek().opening === openings.peek() ? held.peek().by : {};
      held.value = { opening: openings.peek(), by: { ...before, [field]: what } };
    },
  };
}
