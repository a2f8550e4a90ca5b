import type { Answers, Plan } from "#core";
import type { FarmView, FromEngine, MapBefore, NamedFile, TakeAway, ToEngine } from "../engine/protocol.ts";
import type { FileReading } from "../engine/read-files.ts";
import type { Dropped } from "../engine/recognise.ts";
import type { SeasonAsk } from "../engine/season-protocol.ts";
import type { StickErrand, StickHearers } from "../stick/put-on-stick.ts";
import { answers, history } from "./opened.ts";

export type Taken = Extract<FromEngine, { kind: "taken" }>;
type Reply = Extract<FromEngine, { kind: "recognised" | "question" | "trouble" }>;
type SeasonReply = Extract<FromEngine, { kind: "season-told" | "question" | "trouble" }>;
type StickReply = Extract<FromEngine, { kind: "stick-written" | "question" | "trouble" }>;

/** Errands run beside the work: files to take away, dropped files to recognise. They count down from -1. */
let errand = 0;
const takers = new Map<number, { resolve: (taken: Taken) => void; reject: (reason: unknown) => void }>();
interface StickWriter extends StickHearers {
  readonly resolve: (reply: StickReply) => void;
}
const stickWriters = new Map<number, StickWriter>();
const seasonAskers = new Map<number, (reply: SeasonReply) => void>();
const comparers = new Map<number, (farm: FarmView | null) => void>();
type BeforeReply = { readonly before: MapBefore | null } | null;
const beforeAskers = new Map<number, (reply: BeforeReply) => void>();
const readers = new Map<number, (readings: readonly FileReading[]) => void>();
const askers = new Map<number, (reply: Reply) => void>();
let send: (message: ToEngine) => void = () => {};

export function runErrandsBy(sender: (message: ToEngine) => void): void {
  send = sender;
}

/** Whether a message belongs to an errand; if so it is done with. */
export function isErrand(message: FromEngine): boolean {
  if (!("turn" in message) || message.turn >= 0) return false;
  const { turn } = message;
  const comparer = comparers.get(turn);
  if (comparer && message.kind !== "progress") {
    comparers.delete(turn);
    comparer(message.kind === "compared" ? message.farm : null);
  }
  const beforeAsker = beforeAskers.get(turn);
  if (beforeAsker && message.kind !== "progress") {
    beforeAskers.delete(turn);
    beforeAsker(message.kind === "map-before" ? message : null);
  }
  const reader = readers.get(turn);
  if (reader) {
    readers.delete(turn);
    reader(message.kind === "readings" ? message.readings : []);
  }
  const asker = askers.get(turn);
  if (asker && (message.kind === "recognised" || message.kind === "question" || message.kind === "trouble")) {
    askers.delete(turn);
    asker(message);
  }
  const seasonAsker = seasonAskers.get(turn);
  if (
    seasonAsker &&
    (message.kind === "season-told" || message.kind === "question" || message.kind === "trouble")
  ) {
    seasonAskers.delete(turn);
    seasonAsker(message);
  }
  const writer = stickWriters.get(turn);
  if (message.kind === "stick-begun") writer?.onBegun(message.record);
  if (message.kind === "stick-progress") writer?.onProgress(message.done, message.total);
  if (
    writer &&
    (message.kind === "stick-written" || message.kind === "question" || message.kind === "trouble")
  ) {
    stickWriters.delete(turn);
    writer.resolve(message);
  }
  const taker = takers.get(turn);
  if (taker && message.kind !== "progress") {
    takers.delete(turn);
    if (message.kind === "taken") taker.resolve(message);
    else taker.reject(message);
  }
  return true;
}

/** Files to carry off, written, zipped and read back by the worker. */
export function takeAway(what: TakeAway): Promise<Taken> {
  const now = history.peek();
  if (!now) return Promise.reject(new Error("no plan is open"));
  const turn = --errand;
  return new Promise((resolve, reject) => {
    takers.set(turn, { resolve, reject });
    send({ kind: "take-away", turn, plan: now.plan, answers: answers.peek(), what });
  });
}

/** Write every field's maps into a folder that the user chose; what was written, open questions, or what is wrong. */
export function writeToStick(
  root: FileSystemDirectoryHandle,
  what: StickErrand,
  hearers: StickHearers,
): Promise<StickReply> {
  const now = history.peek();
  if (!now) return Promise.reject(new Error("no plan is open"));
  const turn = --errand;
  return new Promise((resolve) => {
    stickWriters.set(turn, { resolve, ...hearers });
    send({ kind: "stick", turn, plan: now.plan, answers: answers.peek(), root, errand: what });
  });
}

/** Fills, season, order or logs of the plan as it is. */
export function askSeason(ask: SeasonAsk): Promise<SeasonReply> {
  const now = history.peek();
  if (!now) return Promise.reject(new Error("no plan is open"));
  const turn = --errand;
  return new Promise((resolve) => {
    seasonAskers.set(turn, resolve);
    send({ kind: "season", turn, plan: now.plan, answers: answers.peek(), ask });
  });
}

/** Say what dropped files are; the answer is a plan, open questions, or what is wrong with them. */
export function askWhatItIs(dropped: Dropped): Promise<Reply> {
  const turn = --errand;
  return new Promise((resolve) => {
    askers.set(turn, resolve);
    send({ kind: "recognise", turn, ...dropped });
  });
}

/** How each file is read by itself: its columns, and the rows that need somebody. */
export function askHowRead(files: readonly NamedFile[], given: Answers): Promise<readonly FileReading[]> {
  const turn = --errand;
  return new Promise((resolve) => {
    readers.set(turn, resolve);
    send({ kind: "read-files", turn, files, answers: given });
  });
}

/** The farm's figures by another state of the plan; null when newer work came between or it could not be worked out. */
export function askFarmOf(of: Plan): Promise<FarmView | null> {
  const turn = --errand;
  return new Promise((resolve) => {
    comparers.set(turn, resolve);
    send({ kind: "compare", turn, plan: of, answers: answers.peek() });
  });
}

/** A layer by an earlier state of the plan, null where it had none; no reply when newer work came between. */
export function askMapBefore(
  of: Omit<Extract<ToEngine, { kind: "before" }>, "kind" | "turn" | "answers">,
): Promise<BeforeReply> {
  const turn = --errand;
  return new Promise((resolve) => {
    beforeAskers.set(turn, resolve);
    send({ kind: "before", turn, answers: answers.peek(), ...of });
  });
}

/** The earlier state is compared with no more. */
export const letBeforeGo = (): void => send({ kind: "before-let-go" });
