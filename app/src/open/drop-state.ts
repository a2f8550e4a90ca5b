import { batch, type Signal, signal } from "@preact/signals";
import { type Answers, type Plan, type Question, sameBytes } from "#core";
import { isPlanFile } from "../engine/plan-file.ts";
import type { NamedFile, Trouble } from "../engine/protocol.ts";
import type { FileReading } from "../engine/read-files.ts";
import type { Recognised } from "../engine/recognise.ts";
import { focusSheet } from "../parts/focus-sheet.ts";
import { askHowRead, askWhatItIs } from "../state/errands.ts";
import { forgetLedgers } from "../state/ledgers.ts";
import { edit, history, opened, openPlan, plan } from "../state/opened.ts";
import { goTo, here, writeHash } from "../state/route.ts";
import { broughtBack } from "../state/session.ts";
import { today } from "../state/today.ts";
import type { Gathered } from "./gather.ts";

/** What was dropped and how far it was understood. */
export interface Drop {
  readonly name: string;
  readonly files: readonly NamedFile[];
  /** The address when it was dropped: whoever goes to a sheet meanwhile stays there. */
  readonly from: string;
  /** The sheet that was open then. */
  readonly at: string;
  readonly answers: Answers;
  /** Files that are not to be read, by the names they were sorted out under. */
  readonly leftOut: readonly string[];
  /** New fields join the open plan; else a new plan begins. */
  readonly joins: boolean;
  readonly isReading: boolean;
  readonly questions: readonly Question[];
  /** Every question that was asked so far, open or answered. */
  readonly asked: readonly Question[];
  readonly trouble: Trouble | null;
  readonly recognised: Recognised | null;
  /** File by file; empty until read. */
  readonly readings: readonly FileReading[];
}

export const drop: Signal<Drop | null> = signal(null);

/** Read what was dropped; a saved plan with all its files opens at once. */
export async function takeDrop(coming: Promise<Gathered>, origin?: string): Promise<void> {
  const from = location.hash;
  const { name, files } = await coming;
  if (files.length === 0) return;
  const standing = drop.peek();
  const isPlan = origin !== undefined || files.some(([path]) => isPlanFile(path));
  if (standing && !isPlan) {
    // As if they had been chosen together.
    drop.value = { ...standing, files: withMore(standing.files, files), isReading: true };
  } else {
    drop.value = {
      ...{
        name,
        files,
        from,
        at: writeHash(here.peek()),
        answers: {},
        leftOut: [],
        joins: plan.peek() !== null,
        isReading: true,
      },
      ...{ questions: [], asked: [], trouble: null, recognised: null, readings: [] },
    };
  }
  await read(origin);
}

/** Files of two drops; the same file dropped twice counts once. */
const withMore = (files: readonly NamedFile[], more: readonly NamedFile[]): NamedFile[] => [
  ...files,
  ...more.filter(([path, bytes]) => !files.some(([held, same]) => held === path && sameBytes(bytes, same))),
];

/** Answers given to the open questions; what was dropped is read again with them. */
export async function answerDrop(given: Answers): Promise<void> {
  const now = drop.peek();
  if (!now) return;
  drop.value = { ...now, answers: { ...now.answers, ...given }, isReading: true };
  await read();
}

/** Take an answer back; what was dropped is read again without it. */
export async function takeBack(key: string): Promise<void> {
  const now = drop.peek();
  if (!now) return;
  const { [key]: _, ...answers } = now.answers;
  drop.value = { ...now, answers, isReading: true };
  await read();
}

/** Leave a dropped file out, or take it in again; the others are read again without or with it. */
export async function leaveFileOut(path: string, isLeft: boolean): Promise<void> {
  const now = drop.peek();
  if (!now) return;
  const others = now.leftOut.filter((one) => one !== path);
  drop.value = { ...now, leftOut: isLeft ? [...others, path] : others, isReading: true };
  await read();
}

export async function joinOrBegin(joins: boolean): Promise<void> {
  const now = drop.peek();
  if (!now) return;
  drop.value = { ...now, joins, isReading: true };
  await read();
}

async function read(origin?: string): Promise<void> {
  const now = drop.peek()!;
  const open = opened.peek();
  const of = plan.peek();
  const { name, files, answers, leftOut } = now;
  const joins = now.joins && of && open ? { plan: of, files: open.files } : null;
  const reply = await askWhatItIs({ name, date: today(), files, answers, joins, leftOut });
  if (drop.peek() !== now) return;
  const read = { ...now, isReading: false };
  if (reply.kind === "question") {
    const { questions } = reply;
    const earlier = now.asked.filter(({ key }) => !everyOne(questions).some((one) => one.key === key));
    drop.value = {
      ...read,
      questions,
      asked: [...earlier, ...everyOne(questions)],
      trouble: null,
      recognised: null,
    };
  } else if (reply.kind !== "recognised") {
    const trouble = reply.kind === "trouble" ? reply.trouble : null;
    drop.value = { ...read, questions: [], trouble, recognised: null };
  } else {
    drop.value = { ...read, questions: [], trouble: null, recognised: reply };
    if (reply.asSaved) return openDrop(origin);
  }
  const shown = drop.peek();
  const readings = await askHowRead(files, answers, joins, leftOut);
  if (drop.peek() === shown && shown) drop.value = { ...shown, readings };
}

/** Questions, and those of each file alone that stand under them. */
export const everyOne = (questions: readonly Question[]): Question[] =>
  questions.flatMap((one) => [one, ...(one.byFile ?? [])]);

/** Take what was recognised as the plan. */
export function openDrop(origin?: string): void {
  const now = drop.peek();
  if (!now?.recognised) return;
  const { plan: of, files, asSaved, change } = now.recognised;
  const isElsewhere = location.hash !== now.from && isNamed(of);
  const before = opened.peek();
  if (now.joins && !asSaved && before && history.peek()) {
    if (change !== "")
      batch(() => {
        opened.value = { ...before, files };
        edit({ name: change, plan: of });
      });
  } else {
    forgetLedgers();
    openPlan({ origin: origin ?? `files: ${of.name}`, name: of.name, files }, of);
  }
  broughtBack.value = null;
  drop.value = null;
  // What is served or a sample opens by itself: nobody's focus was in the list.
  if (origin === undefined) focusSheet();
  if (isElsewhere || (origin?.startsWith("served: ") && isNamed(of))) return;
  const [only] = of.fields;
  if (of.fields.length === 1 && only) goTo({ sheet: "soil", field: only.id, part: "P" });
  else goTo({ sheet: "farm" });
}

/** The address already names a sheet of this plan. */
function isNamed(of: Plan): boolean {
  const { field, unknown } = here.peek();
  if (location.hash === "" || unknown) return false;
  return field === "" || of.fields.some(({ id }) => id === field);
}

export function putBack(): void {
  drop.value = null;
  focusSheet();
}
