import type { Plan } from "#core";

/** One named change of the plan, with the plan on its other side. */
export interface Edit {
  /** `strip cap 130 → 140 lb/ac`; shown after “Undo:”. */
  readonly name: string;
  /** The plan before the edit while it can be undone, after it while it can be redone. */
  readonly plan: Plan;
  /** Edits of one drag share a grip and count as one. */
  readonly grip: string | null;
}

/** The plan and the edits on both sides of it. Never changed, only replaced. */
export interface History {
  readonly plan: Plan;
  readonly past: readonly Edit[];
  readonly future: readonly Edit[];
}

/** Edits kept for undoing. */
const MOST = 200;

export const beginHistory = (plan: Plan): History => ({ plan, past: [], future: [] });

/** The history after an edit. While a drag holds the same grip its moves become one edit, named by the last. */
export function withEdit(history: History, name: string, plan: Plan, grip: string | null = null): History {
  const last = history.past.at(-1);
  if (grip !== null && last?.grip === grip) {
    return { plan, past: [...history.past.slice(0, -1), { ...last, name }], future: [] };
  }
  const past = [...history.past, { name, plan: history.plan, grip }].slice(-MOST);
  return { plan, past, future: [] };
}

/** The drag has ended: the next move begins a new edit. */
export function letGo(history: History): History {
  const last = history.past.at(-1);
  if (!last || last.grip === null) return history;
  return { ...history, past: [...history.past.slice(0, -1), { ...last, grip: null }] };
}

export function undone(history: History): History {
  const last = history.past.at(-1);
  if (!last) return history;
  const future = [{ name: last.name, plan: history.plan, grip: null }, ...history.future];
  return { plan: last.plan, past: history.past.slice(0, -1), future };
}

export function redone(history: History): History {
  const [next, ...future] = history.future;
  if (!next) return history;
  return {
    plan: next.plan,
    past: [...history.past, { name: next.name, plan: history.plan, grip: null }],
    future,
  };
}

/** Undone up to and with the edit at this place of the past; those after it can be redone one by one. */
export function undoneTo(history: History, place: number): History {
  let now = history;
  while (now.past.length > place && now.past.length > 0) now = undone(now);
  return now;
}
