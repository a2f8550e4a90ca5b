import { effect, type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import type { NamedFile } from "../engine/protocol.ts";
import { listServed, originOf, type Served, whatIsServed } from "../open/served.ts";
import { ledgerServed } from "../open/served-ledger.ts";
import { isFoldersOther } from "../open/served-plan.ts";
import type { Edit } from "./edits.ts";
import { forgetLedgers, withFoldersLedger } from "./ledgers.ts";
import {
  type Beside,
  beside,
  editCount,
  history,
  nothingBeside,
  type Opened,
  opened,
  openPlan,
  readOnly,
} from "./opened.ts";
import { keep, recall } from "./store.ts";

/** What is kept of a visit; its files lie beside it under the same origin. */
interface Session {
  readonly format: "session/1";
  readonly origin: string;
  readonly name: string;
  readonly savedAt: number;
  readonly plan: Plan;
  readonly past: readonly Edit[];
  readonly future: readonly Edit[];
  readonly beside: Beside;
  /** The session of the folder that was served meanwhile: a plan dropped on its page is the later visit of it. */
  readonly servedAs?: string | null;
}

/** The session of the folder served; null without one. */
let servedAs: string | null = null;

/** Saved this long after an edit, ms. */
const REST_MS = 250;

export const savedText: Signal<string> = signal("");
/** The last edit is kept on this computer. */
let isSaved = true;
/** What was brought back when the page opened, until it is dealt with; `besides`: what the folder served has otherwise. */
export const broughtBack: Signal<{
  at: number;
  edit: string | null;
  name: string;
  besides: string;
} | null> = signal(null);
/** Session of the folder whose plan is opened in place of the last visit's, which had no edits, until that is read. */
export const foldersNew: Signal<string | null> = signal(null);

const OTHER =
  " In the folder plan.json or a file that it names has changed since: what changed there is not in this plan.";
const DROPPED =
  " It was dropped on this page and is not the plan in the folder: nothing of the folder is in it, the ledger there neither; “Open the last plan file” opens the folder's.";

/** Hours and minutes. A locale's own format would be loaded first, on the page's time. */
const clock = (at: number): string => {
  const time = new Date(at);
  return `${time.getHours()}:${String(time.getMinutes()).padStart(2, "0")}`;
};

let keptFiles: readonly NamedFile[] | null = null;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Save the plan, its edits and its files on this computer whenever they change. */
export function keepSaved(): void {
  effect(() => {
    const of = opened.value;
    const now = history.value;
    void beside.value;
    if (!of || !now || readOnly.value) return;
    savedText.value = "Saving";
    isSaved = false;
    clearTimeout(timer);
    // A drag ends first; what was typed or chosen is kept at once.
    timer = setTimeout(() => void save(), now.past.at(-1)?.grip == null ? 0 : REST_MS);
  });
  const edits = editCount.peek();
  effect(() => {
    // What was brought back is told until the plan is changed: then it is another.
    if (editCount.value !== edits) broughtBack.value = null;
  });
  addEventListener("pagehide", () => void save());
  addEventListener("beforeunload", (event) => {
    const hasEdits = (history.peek()?.past.length ?? 0) > 0;
    if (!isSaved && hasEdits && !readOnly.peek()) event.preventDefault();
  });
}

async function save(): Promise<void> {
  const of = opened.peek();
  const now = history.peek();
  if (!of || !now || readOnly.peek()) return;
  const savedAt = Date.now();
  const session: Session = {
    format: "session/1",
    origin: of.origin,
    name: of.name,
    savedAt,
    plan: now.plan,
    past: now.past,
    future: now.future,
    beside: beside.peek(),
    servedAs,
  };
  try {
    if (keptFiles !== of.files) {
      await keep("files", of.origin, of.files);
      keptFiles = of.files;
    }
    await keep("sessions", of.origin, session);
    await keep("sessions", "last", of.origin);
    savedText.value = `Saved on this computer ${clock(savedAt)}`;
    if (history.peek() === now) isSaved = true;
    void navigator.storage?.persist?.();
  } catch {
    savedText.value = "Not saved: this browser's storage is full. Save the plan file now.";
  }
}

/**
 * Bring back what was saved for an origin, or the last one saved; false where there is nothing, or nothing that the folder
 * served has not, in a newer plan. Of a plan that is served the folder's ledger may have grown since: the command line writes
 * into it.
 */
export async function bringBack(origin: string | null, served: Served | null): Promise<boolean> {
  try {
    servedAs = served && originOf(served);
    const key = await keyOf(origin);
    if (typeof key !== "string") return false;
    const session = (await recall("sessions", key)) as Session | undefined;
    const files = (await recall("files", key)) as readonly NamedFile[] | undefined;
    if (session?.format !== "session/1" || !files) return false;
    keptFiles = files;
    const kept: Opened = { origin: key, name: session.name, files };
    const { plan, past, future } = session;
    const isServed = served !== null && originOf(served) === key;
    const hasEdits = past.length + future.length > 0;
    const begun = past[0]?.plan ?? plan;
    const isOther = isServed && (await isFoldersOther(served, { begun, plan, files }));
    foldersNew.value = isOther && !hasEdits ? key : null;
    if (foldersNew.value) return false;
    forgetLedgers();
    const folders = isServed ? await ledgerServed(served) : null;
    const what = folders ? await withFoldersLedger(kept, folders) : kept;
    openPlan(what, { plan, past, future }, { ...nothingBeside, ...session.beside });
    const besides = isOther ? OTHER : served && !isServed ? DROPPED : "";
    broughtBack.value = { at: session.savedAt, edit: past.at(-1)?.name ?? null, name: session.name, besides };
    savedText.value = `Saved on this computer ${clock(session.savedAt)}`;
    return true;
  } catch {
    return false;
  }
}

/** Under which session the plan to be brought back was kept: of a folder's own and one dropped on its page the later. */
async function keyOf(origin: string | null): Promise<unknown> {
  const last = await recall("sessions", "last");
  if (origin === null || typeof last !== "string" || last === origin) return origin ?? last;
  const [own, dropped] = await Promise.all(
    [origin, last].map(async (key) => (await recall("sessions", key)) as Session | undefined),
  );
  const isLater = dropped?.servedAs === origin && dropped.savedAt > (own?.savedAt ?? 0);
  return isLater ? last : origin;
}

export const broughtBackText = (): string => {
  const back = broughtBack.value;
  if (!back) return "";
  const upTo = back.edit ? ` up to: ${back.edit}` : "";
  return `The page closed at ${clock(back.at)}. The plan is back${upTo}.${back.besides}`;
};

/** Hold the page's ledger against the folder's whenever somebody comes back to the page, from the command line perhaps. */
export function followLedger(): void {
  addEventListener("focus", () => void takeFoldersLedger());
}

async function takeFoldersLedger(): Promise<void> {
  const of = opened.peek();
  if (!of?.origin.startsWith(originOf({ name: "" }))) return;
  const served = await listServed();
  const folders = served && originOf(served) === of.origin ? await ledgerServed(served) : null;
  const isStill = () => opened.peek() === of;
  const now = folders && isStill() ? await withFoldersLedger(of, folders, isStill) : of;
  if (isStill()) opened.value = now;
}

/** Hold the plan for this tab; while another tab holds it, this one looks only. `open`: opens the plan in the folder served. */
export function holdPlan(open: (served: Served) => Promise<void>): void {
  if (!navigator.locks) return;
  void navigator.locks.request("bermplan plan", { ifAvailable: true }, (lock) => {
    if (lock) return new Promise(() => {});
    readOnly.value = true;
    void navigator.locks.request("bermplan plan", async () => {
      readOnly.value = false;
      const served = await whatIsServed();
      const isBack = await bringBack(opened.peek()?.origin ?? null, served);
      if (served && !isBack && foldersNew.peek()) await open(served);
      return new Promise(() => {});
    });
  });
}
