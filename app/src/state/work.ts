import { effect } from "@preact/signals";
import type { Plan, Progress } from "#core";
import { startEngine } from "../engine/client.ts";
import type { FromEngine, LonLat } from "../engine/protocol.ts";
import { drawnLater } from "./draw-later.ts";
import { isErrand, runErrandsBy, stopErrands } from "./errands.ts";
import { ledgersApart } from "./ledgers.ts";
import { forgetLimits, letLimitsStand, look } from "./look.ts";
import { isMapless } from "./mapless.ts";
import { answers, opened, plan } from "./opened.ts";
import {
  farm,
  field,
  isBehind,
  isDone,
  isStopped,
  outlines,
  pointed,
  progress,
  questions,
  type Refusal,
  refusal,
  soFar,
  takeField,
  trouble,
} from "./results.ts";

/** A newer plan waits this long for the one being worked out to show, then goes before it, ms. */
const PATIENCE_MS = 400;

/** How far the work is shows once it takes this long, ms, and then anew this often: every word is a frame to draw. */
const PROGRESS_AFTER_MS = 200;
const PROGRESS_EVERY_MS = 100;

/** Of the work sent last. */
let turn = 0;
let sentAt = 0;
/** The turn whose field has not come yet, or null. */
let waitingFor: number | null = null;
/** Plan or sheet have changed since work was sent. */
let isDue = false;
let sentFiles: unknown = null;
/** The plan that the farm's figures belong to. */
let farmPlan: Plan | null = null;
let sentPlan: Plan | null = null;
let overdue: ReturnType<typeof setTimeout> | undefined;

const engine = startEngine(
  (message) => drawnLater(() => hear(message)),
  (told) => {
    trouble.value = {
      code: "our-fault",
      message: told,
      remedy: "Our fault, not your file's. The plan is safe. Load the page again.",
      ours: true,
    };
  },
);
runErrandsBy((message) => engine.send(message));

/** Begin to keep results in step with plan and sheet. */
export function keepInStep(): void {
  effect(() => {
    void look.value;
    void plan.value;
    void answers.value;
    void opened.value;
    void ledgersApart.value;
    isDue = true;
    sendIfFree();
  });
}

/** Send the newest plan, one at a time, so that every move shows; a long one is overtaken after a while. */
function sendIfFree(): void {
  const now = plan.peek();
  if (!isDue || !now) return;
  const apart = ledgersApart.peek();
  if (apart) {
    askWhichLedger([apart.question]);
    return;
  }
  const patienceLeft = waitingFor === null ? 0 : PATIENCE_MS - (performance.now() - sentAt);
  clearTimeout(overdue);
  if (patienceLeft > 0) {
    overdue = setTimeout(sendIfFree, patienceLeft);
    return;
  }
  isDue = false;
  sendFilesOnce();
  turn++;
  sentAt = performance.now();
  waitingFor = turn;
  if (now !== sentPlan || field.peek()?.id !== look.peek().field) isBehind.value = true;
  if (now !== sentPlan) forgetAsides();
  sentPlan = now;
  isStopped.value = false;
  isDone.value = false;
  const wholeFarm = now !== farmPlan;
  engine.send({ kind: "work", turn, plan: now, answers: answers.peek(), look: look.peek(), wholeFarm });
  performance.mark("work sent");
}

/** Which fields are done is not known: nothing is worked out until it is. */
function askWhichLedger(questions: Refusal["questions"]): void {
  isDue = false;
  sendFilesOnce();
  turn++;
  waitingFor = null;
  isDone.value = false;
  hearProgress(null);
  refusal.value = { of: "farm", isFarmKnown: false, isOfFiles: false, trouble: null, questions };
}

/** What was said of the plan before this one. */
function forgetAsides(): void {
  if (trouble.peek()?.ours === false) trouble.value = null;
  if (questions.peek().length > 0) questions.value = [];
}

function sendFilesOnce(): void {
  const files = opened.peek()?.files ?? [];
  if (sentFiles === files) return;
  sentFiles = files;
  field.value = null;
  farm.value = null;
  refusal.value = null;
  soFar.value = [];
  farmPlan = null;
  outlines.value = [];
  forgetLimits();
  engine.send({ kind: "files", files });
}

function hear(message: FromEngine): void {
  if (isErrand(message)) return;
  switch (message.kind) {
    case "progress":
      if (message.turn === turn) hearProgress(message.progress);
      break;
    case "outlines":
      outlines.value = message.outlines;
      break;
    case "field":
      hearField(message);
      break;
    case "farm-so-far":
      if (message.turn === turn && farm.peek() === null) soFar.value = message.fields;
      break;
    case "farm":
      if (message.turn !== turn) break;
      farm.value = message.farm;
      soFar.value = [];
      farmPlan = sentPlan;
      // What is wrong with the chosen field stands until that is worked out.
      refusal.value = refusal.peek()?.of === "field" ? { ...refusal.peek()!, isFarmKnown: true } : null;
      break;
    case "read-out":
      hearReadOut(message);
      break;
    case "done":
      if (message.turn === turn) {
        hearProgress(null);
        // Of files that could not be written before: no newer figures of the farm come to end it.
        if (refusal.peek()?.of === "farm") refusal.value = null;
        isDone.value = !isDue;
      }
      break;
    case "stopped":
      free(message.turn);
      break;
    case "question":
      refused(message.turn, { trouble: null, questions: message.questions });
      break;
    case "trouble":
      if (message.turn !== turn && message.trouble.ours) trouble.value = message.trouble;
      refused(message.turn, { trouble: message.trouble, questions: [] });
      break;
  }
}

let newestProgress: Progress | null = null;
let progressTimer: ReturnType<typeof setTimeout> | undefined;

function hearProgress(now: Progress | null): void {
  newestProgress = now;
  if (now === null) {
    clearTimeout(progressTimer);
    progressTimer = undefined;
    progress.value = null;
  } else
    progressTimer ??= setTimeout(
      () => {
        progressTimer = undefined;
        progress.value = newestProgress;
      },
      progress.peek() ? PROGRESS_EVERY_MS : PROGRESS_AFTER_MS,
    );
}

function hearField(message: Extract<FromEngine, { kind: "field" }>): void {
  const shown = takeField(message.field);
  if (shown) {
    letLimitsStand(
      `${shown.id} ${look.peek().system}`,
      shown.layers.map(({ layer }) => layer),
    );
    field.value = shown;
    if (refusal.peek()?.of === "field") refusal.value = null;
    if (message.turn === turn) isBehind.value = isDue;
    // No map stands on a sheet of paper or while files are looked at: nothing to wait for.
    if (document.querySelector(".plat") === null || isMapless.peek()) tellDrawn();
    const pin = pointed.peek();
    if (pin) askReadOut(pin.at, pin.pinned);
  }
  free(message.turn);
}

function hearReadOut({ at, readOut, before, explained }: Extract<FromEngine, { kind: "read-out" }>): void {
  const now = pointed.peek();
  if (now && now.at[0] === at[0] && now.at[1] === at[1])
    pointed.value = { ...now, readOut, before, explained };
}

function free(of: number): void {
  if (waitingFor !== null && of >= waitingFor) waitingFor = null;
  sendIfFree();
}

/** The plan sent cannot be worked out: what is shown stays behind it. */
function refused(of: number, why: Pick<Refusal, "trouble" | "questions">): void {
  if (of === turn) {
    hearProgress(null);
    const part = waitingFor === turn && look.peek().field !== null ? "field" : "farm";
    refusal.value = {
      of: part,
      isFarmKnown: false,
      isOfFiles: part === "farm" && farmPlan === sentPlan,
      ...why,
    };
    // Another field's map and figures would stand under the name of the chosen one.
    if (field.peek()?.id !== look.peek().field) field.value = null;
  }
  free(of);
}

/** End what is being worked out; the maps go on showing the plan before the change. */
export function stop(): void {
  engine.restart(opened.peek()?.files ?? []);
  stopErrands();
  waitingFor = null;
  isDue = false;
  turn++;
  farmPlan = null;
  hearProgress(null);
  isStopped.value = true;
}

export function askReadOut(at: LonLat, pinned: boolean): void {
  const { readOut = null, before = null, explained = null } = pointed.peek() ?? {};
  pointed.value = { at, readOut, before, explained, pinned };
  engine.send({ kind: "read-out", turn: 0, at });
}

/** The map shows what it was given: files may be written now. */
export function tellDrawn(): void {
  engine.send({ kind: "drawn" });
}
