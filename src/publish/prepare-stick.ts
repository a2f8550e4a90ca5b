import { type Question, QuestionError } from "../errors/index.ts";
import type { ZeroRate } from "../plan/index.ts";
import { builtMaps } from "./built-maps.ts";
import { manifestPath } from "./manifest.ts";
import { sameBytes } from "./same-bytes.ts";
import {
  besideSet,
  datedFolder,
  fileInTheWay,
  filesListed,
  journalPath,
  KEEP,
  MOVE_ASIDE,
  olderMaps,
  otherMachine,
  othersOn,
  stickAsListed,
  taskDataQuestion,
} from "./stick-looks.ts";
import { highestLetter, stickNames } from "./stick-names.ts";
import {
  type Stick,
  type StickInput,
  type StickMap,
  type StickSet,
  stickPath,
  stickSet,
} from "./stick-set.ts";

/** A stick as it can be looked at, by paths with forward slashes below it. */
export interface StickPlace {
  /** As messages name it. */
  readonly name: string;
  /** Every file. */
  files(): Promise<readonly string[]>;
  /** Files and folders right on it. */
  names(): Promise<readonly string[]>;
  /** The bytes of a file; `other` where something else stands there, null where nothing does. */
  read(path: string): Promise<Uint8Array | "other" | null>;
}

/** What `prepareStick` takes besides the place. */
export interface StickJob
  extends Pick<
    StickInput,
    "build" | "plan" | "planSha256" | "toolVersion" | "pass" | "only" | "reissue" | "record" | "said"
  > {
  /** Throws a `QuestionError` where nobody has said it. */
  readonly zeroRate: () => ZeroRate;
  /** Answer to the question of that name. */
  readonly existingTaskData: string | undefined;
  /** YYYY-MM-DD. */
  readonly today: string;
}

/** A stick's set, ready to be written. */
export interface PreparedStick {
  readonly set: StickSet;
  /** A TASKDATA that has to give way, and the dated folder it goes to. */
  readonly aside: { readonly from: string; readonly to: string } | null;
  /** An earlier writing was interrupted. */
  readonly wasBegun: boolean;
  /** What else will stand on the stick, in words. */
  readonly beside: readonly string[];
}

interface Looked {
  readonly files: readonly string[];
  readonly listed: ReadonlyMap<string, string>;
  /** Listed by the manifest, or by the journal of a writing that was interrupted. */
  readonly ours: ReadonlySet<string>;
  readonly stick: Stick | null;
}

/**
 * Looks at a stick, asks what must be asked before anything is written, and makes the set. Writes nothing. Throws a
 * `QuestionError` with `zero-rate` and `existing-taskdata`, `other-machine`, `file-in-the-way`, and what
 * `stickSet` throws.
 */
export async function prepareStick(place: StickPlace, job: StickJob): Promise<PreparedStick> {
  const { pass, record, reissue } = job;
  const looked = await look(place);
  if (looked.stick !== null && looked.stick.pass !== pass) throw otherMachine(place.name, looked.stick);
  const questions: Question[] = [];
  const zeroRate = settled(job.zeroRate, questions) ?? { does: "off" as const };
  const taskData = (await place.names()).find((name) => name.toUpperCase() === "TASKDATA") ?? null;
  const names = stickNames(await builtMaps(job.build), job.plan.controller?.nameLength);
  const input: StickInput = {
    ...job,
    zeroRate,
    taskData: taskData === null || job.existingTaskData !== KEEP,
    revisionThere: Math.max(looked.stick?.revisionNumber ?? 0, highestLetter(looked.files, names.values())),
    ...(await keptOnStick(place, looked, reissue ? [] : Object.keys(record[pass].marks))),
  };
  const set = await stickSet(input);
  const isInTheWay = taskData !== null && (await givesWay(place, looked, set, taskData));
  if (isInTheWay && job.existingTaskData !== MOVE_ASIDE) {
    const inside = looked.files.filter((path) => path.startsWith(`${taskData}/`));
    questions.push(taskDataQuestion(`${place.name}/${taskData}`, inside, job.existingTaskData));
  }
  if (questions.length > 0) throw new QuestionError(questions);
  const wasBegun = looked.files.includes(journalPath);
  await refuseStrangers(place, looked, set.files);
  const standing = await place.names();
  const aside = isInTheWay
    ? { from: taskData, to: datedFolder(job.today, (name) => standing.includes(name)) }
    : null;
  const moved = looked.files.map((path) =>
    aside !== null && path.startsWith(`${aside.from}/`)
      ? `${aside.to}${path.slice(aside.from.length)}`
      : path,
  );
  const beside = besideSet(moved, [...set.files.keys()]);
  if (beside.length > 0) return { set: await stickSet({ ...input, beside }), aside, wasBegun, beside };
  return { set, aside, wasBegun, beside };
}

/** Older maps of the same fields that are on the stick after it was written. */
export async function olderOn(place: StickPlace, { record, stick }: StickSet): Promise<readonly string[]> {
  const { files, listed } = await look(place);
  const { names, maps } = record[stick.pass];
  return olderMaps(othersOn(files, listed), names, Object.keys(maps));
}

async function look(place: StickPlace): Promise<Looked> {
  const bytesAt = async (path: string): Promise<Uint8Array | null> => {
    const there = await place.read(path);
    return there === "other" ? null : there;
  };
  const listed = filesListed(await bytesAt(manifestPath), manifestPath);
  const journal = filesListed(await bytesAt(journalPath), journalPath);
  return {
    files: await place.files(),
    listed,
    ours: new Set([...listed.keys(), ...journal.keys()]),
    stick: stickAsListed(listed, await bytesAt(stickPath)),
  };
}

/** The value, or its questions added to the list. */
function settled<T>(ask: () => T, questions: Question[]): T | null {
  try {
    return ask();
  } catch (error) {
    if (!(error instanceof QuestionError)) throw error;
    questions.push(...error.questions);
    return null;
  }
}

/** Maps of marked fields that the stick holds as its manifest lists them; they stay part of the set. */
async function keptOnStick(
  place: StickPlace,
  { stick, listed }: Looked,
  held: readonly string[],
): Promise<{ kept: ReadonlyMap<string, Uint8Array>; keptMaps: readonly StickMap[] }> {
  const kept = new Map<string, Uint8Array>();
  const keptMaps: StickMap[] = [];
  for (const map of (stick?.maps ?? []).filter(({ field }) => held.includes(field))) {
    const found: (readonly [string, Uint8Array])[] = [];
    for (const path of map.files) {
      const bytes = listed.has(path) ? await place.read(path) : null;
      if (bytes !== null && bytes !== "other") found.push([path, bytes]);
    }
    if (found.length < map.files.length) continue;
    keptMaps.push(map);
    for (const [path, bytes] of found) kept.set(path, bytes);
  }
  return { kept, keptMaps };
}

/**
 * Whether the stick's TASKDATA is anything but what would be written, or the beginning of it that an interrupted writing left:
 * no other file in it, and each that is there as far as it goes.
 */
async function givesWay(
  place: StickPlace,
  { files }: Looked,
  set: StickSet,
  taskData: string,
): Promise<boolean> {
  if (![...set.files.keys()].some((path) => path.startsWith("TASKDATA/"))) return false;
  if (taskData !== "TASKDATA") return true;
  for (const path of files.filter((one) => one.startsWith("TASKDATA/"))) {
    const bytes = await place.read(path);
    const meant = set.files.get(path);
    if (bytes === null || bytes === "other" || meant === undefined) return true;
    if (!sameBytes(bytes, meant.subarray(0, bytes.length))) return true;
  }
  return false;
}

async function refuseStrangers(
  place: StickPlace,
  { ours, listed }: Looked,
  files: ReadonlyMap<string, Uint8Array>,
): Promise<void> {
  for (const [path, bytes] of files) {
    if (path.startsWith("TASKDATA/") || path === manifestPath) continue;
    const there = await place.read(path);
    if (there === null || (there !== "other" && (ours.has(path) || sameBytes(there, bytes)))) continue;
    throw fileInTheWay(`${place.name}/${path}`, ", with other content, and this tool did not write it");
  }
  if ((await place.read(manifestPath)) === null || listed.has(stickPath)) return;
  const why = " and is not of a stick that this tool wrote, or it is damaged";
  throw fileInTheWay(`${place.name}/${manifestPath}`, why);
}
