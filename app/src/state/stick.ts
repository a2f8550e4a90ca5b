import { type Signal, signal } from "@preact/signals";
import {
  type Answers,
  type FieldMark,
  noSticks,
  type Question,
  type StickPass,
  type StickRecord,
} from "#core";
import type { StickTold } from "../stick/put-on-stick.ts";
import { writeToStick } from "./errands.ts";
import { edit, opened, plan } from "./opened.ts";
import { withZeroRate } from "./plan-edits.ts";
import { trouble } from "./results.ts";
import { keep, recall } from "./store.ts";
import { type MadeFor, madeForNow } from "./take-maps.ts";
import { today } from "./today.ts";

/** What became of the writing to a stick that was asked for last. */
type StickState =
  | { readonly kind: "idle" }
  | { readonly kind: "writing"; readonly words: string }
  /** The browser does not let this page choose a folder. */
  | { readonly kind: "denied"; readonly why: string }
  | { readonly kind: "asks"; readonly questions: readonly Question[] }
  | {
      readonly kind: "written";
      readonly told: StickTold;
      readonly folder: string;
      /** What was said is of the plan as it was then. */
      readonly of: MadeFor;
    };

export const stickState: Signal<StickState> = signal({ kind: "idle" });
/** Revisions, names and marks of the plan that is open; kept on this computer. */
export const stickRecord: Signal<StickRecord> = signal(noSticks);

let recordOf = "";
let chosen: FileSystemDirectoryHandle | null = null;
let given: Answers = {};

type PickFolder = (options: { mode: "readwrite"; id: string }) => Promise<FileSystemDirectoryHandle>;
const picker = (): PickFolder | undefined =>
  (globalThis as { showDirectoryPicker?: PickFolder }).showDirectoryPicker;

/** Whether this browser can write into a folder that the user chooses. */
export const canWriteFolders = (): boolean => picker() !== undefined;

/** Read what was remembered of the open plan's sticks. */
export async function recallSticks(): Promise<void> {
  const origin = opened.peek()?.origin ?? "";
  if (origin === recordOf) return;
  recordOf = origin;
  stickState.value = { kind: "idle" };
  stickRecord.value =
    ((await recall("sessions", `sticks of ${origin}`)) as StickRecord | undefined) ?? noSticks;
}

/** Let the user choose the stick's folder, then write. */
export async function chooseAndWrite(pass: StickPass, reissue: boolean): Promise<void> {
  try {
    chosen = await picker()!({ mode: "readwrite", id: "stick" });
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    if (error.name !== "AbortError") stickState.value = { kind: "denied", why: error.message };
    return;
  }
  given = {};
  await write(pass, reissue);
}

/** Go on with the folder chosen, with these answers; what a rate 0 does becomes the plan's. */
export async function answerStick(pass: StickPass, reissue: boolean, answers: Answers): Promise<void> {
  given = { ...given, ...answers };
  keepZeroRate(answers["zero-rate"]);
  await write(pass, reissue);
}

function keepZeroRate(answer: string | undefined): void {
  const now = plan.peek();
  const change = now && answer !== undefined ? withZeroRate(now, answer) : null;
  if (change) edit(change);
}

/** Why the last stick was refused: it does not hold any more once another is begun. */
let refused: typeof trouble.value = null;

async function write(pass: StickPass, reissue: boolean): Promise<void> {
  if (refused !== null && trouble.peek() === refused) trouble.value = null;
  stickState.value = { kind: "writing", words: "Working out every field" };
  const of = madeForNow() ?? { origin: "", of: {} };
  const errand = { pass, record: stickRecord.peek(), reissue, answers: given, today: today() };
  const reply = await writeToStick(chosen!, errand, {
    onBegun: (record) => void remember(record),
    onProgress: (done, total) => {
      stickState.value = { kind: "writing", words: `Writing file ${done} of ${total}` };
    },
  });
  if (reply.kind === "question") stickState.value = { kind: "asks", questions: reply.questions };
  else if (reply.kind === "stick-written") {
    stickState.value = { kind: "written", told: reply.told, folder: chosen!.name, of };
  } else {
    stickState.value = { kind: "idle" };
    if (reply.kind === "trouble") {
      refused = reply.trouble;
      trouble.value = refused;
    }
  }
}

/** Mark a field as loaded, done, or open again. */
export function markField(pass: StickPass, field: string, mark: FieldMark | "open"): Promise<void> {
  const record = stickRecord.peek();
  const { [field]: _before, ...others } = record[pass].marks;
  const marks = mark === "open" ? others : { ...others, [field]: mark };
  return remember({ ...record, [pass]: { ...record[pass], marks } });
}

async function remember(record: StickRecord): Promise<void> {
  stickRecord.value = record;
  await keep("sessions", `sticks of ${recordOf}`, record);
}
