import type { Answers, Plan } from "#core";
import type { FarmView, FromEngine, NamedFile, TakeAway, ToEngine } from "../engine/protocol.ts";
import type { FileReading } from "../engine/read-files.ts";
import type { Dropped } from "../engine/recognise.ts";
import type { SeasonAsk } from "../engine/season-protocol.ts";
import type { StickErrand, StickHearers } from "../stick/put-on-stick.ts";
import { answers, plan } from "./opened.ts";

/** What an errand may end with beside its answer: open questions, what is wrong, newer work or a stop. */
type Unanswered = "question" | "trouble" | "stopped";
type Kind = FromEngine["kind"];
type Ending<Answer extends Kind> = Extract<FromEngine, { kind: Answer | Unanswered }>;
type OfTurn<Message> = Message extends { turn: number } ? Omit<Message, "turn"> : never;

/** Errands run beside the work: files to take away, dropped files to recognise. They count down from -1. */
let last = 0;
const errands = new Map<number, (message: FromEngine) => void>();
let send: (message: ToEngine) => void = () => {};

export function runErrandsBy(sender: (message: ToEngine) => void): void {
  send = sender;
}

/** Whether a message belongs to an errand, which then has heard it. */
export function isErrand(message: FromEngine): boolean {
  if (!("turn" in message) || message.turn >= 0) return false;
  errands.get(message.turn)?.(message);
  return true;
}

/** The worker is gone: whoever waits for an answer hears that none comes. */
export function stopErrands(): void {
  for (const [turn, hear] of errands) hear({ kind: "stopped", turn });
}

function run<Answer extends Kind>(
  message: OfTurn<ToEngine>,
  answer: Answer,
  hear: (message: FromEngine) => void = () => {},
): Promise<Ending<Answer>> {
  const turn = --last;
  const isEnding = (one: FromEngine): one is Ending<Answer> =>
    one.kind === answer || one.kind === "question" || one.kind === "trouble" || one.kind === "stopped";
  return new Promise((resolve) => {
    errands.set(turn, (told) => {
      if (!isEnding(told)) return hear(told);
      errands.delete(turn);
      resolve(told);
    });
    send({ ...message, turn } as ToEngine);
  });
}

/** The plan as it is, and the answers given to its files. */
function now(): { readonly plan: Plan; readonly answers: Answers } {
  const open = plan.peek();
  if (!open) throw new Error("no plan is open");
  return { plan: open, answers: answers.peek() };
}

/** Files to carry off, written, zipped and read back by the worker. */
export const takeAway = (what: TakeAway): Promise<Ending<"taken">> =>
  run({ kind: "take-away", ...now(), what }, "taken");

/** Write every field's maps into a folder that the user chose. */
export const writeToStick = (
  root: FileSystemDirectoryHandle,
  errand: StickErrand,
  { onBegun, onProgress }: StickHearers,
): Promise<Ending<"stick-written">> =>
  run({ kind: "stick", ...now(), root, errand }, "stick-written", (told) => {
    if (told.kind === "stick-begun") onBegun(told.record);
    if (told.kind === "stick-progress") onProgress(told.done, told.total);
  });

/** Fills, season, order or logs of the plan as it is. */
export const askSeason = (ask: SeasonAsk): Promise<Ending<"season-told">> =>
  run({ kind: "season", ...now(), ask }, "season-told");

/** Say what dropped files are: a plan of them. */
export const askWhatItIs = (dropped: Dropped): Promise<Ending<"recognised">> =>
  run({ kind: "recognise", ...dropped }, "recognised");

/** How each file is read by itself: its columns, and the rows that need somebody. */
export async function askHowRead(
  files: readonly NamedFile[],
  given: Answers,
  joins: Dropped["joins"] = null,
  leftOut: readonly string[] = [],
): Promise<readonly FileReading[]> {
  const told = await run({ kind: "read-files", files, answers: given, joins, leftOut }, "readings");
  return told.kind === "readings" ? told.readings : [];
}

/** The farm's figures by another state of the plan; null when newer work came between or it could not be worked out. */
export async function askFarmOf(of: Plan): Promise<FarmView | null> {
  const told = await run({ kind: "compare", plan: of, answers: answers.peek() }, "compared");
  return told.kind === "compared" ? told.farm : null;
}

type BeforeAsked = Omit<Extract<ToEngine, { kind: "before" }>, "kind" | "turn" | "answers">;

/** A layer by an earlier state of the plan, null where it had none; no reply when newer work came between. */
export async function askMapBefore(
  of: BeforeAsked,
): Promise<Extract<FromEngine, { kind: "map-before" }> | null> {
  const told = await run({ kind: "before", answers: answers.peek(), ...of }, "map-before");
  return told.kind === "map-before" ? told : null;
}

/** The earlier state is compared with no more. */
export const letBeforeGo = (): void => send({ kind: "before-let-go" });
