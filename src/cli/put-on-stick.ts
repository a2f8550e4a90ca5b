import { type Question, QuestionError } from "../errors/index.ts";
import type { FileSource, Plan, ZeroRate } from "../plan/index.ts";
import {
  datedFolder,
  KEEP,
  MOVE_ASIDE,
  olderMaps,
  otherMachine,
  type Stick,
  type StickMap,
  type StickPass,
  type StickRecord,
  type StickSet,
  stickSet,
  taskDataQuestion,
} from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { takeLock } from "./folder-lock.ts";
import { filesBelow, listedIn } from "./stick-files.ts";
import { type StickThere, stickThere } from "./stick-there.ts";
import { dayOf } from "./today.ts";
import { isOurTaskData, refuseStrangers, taskDataOn, writeStick } from "./write-stick.ts";

export interface PutOnStick {
  /** A build, held against its manifest. */
  readonly build: FileSource;
  readonly to: string;
  readonly plan: Plan;
  readonly planSha256: string;
  readonly toolVersion: string;
  readonly pass: StickPass;
  readonly only: readonly string[];
  readonly reissue: boolean;
  readonly record: StickRecord;
  /** Called once, before anything is written to the stick. */
  readonly saveRecord: (record: StickRecord) => void;
  /** Throws a `QuestionError` where nobody has said it. */
  readonly zeroRate: () => ZeroRate;
  /** Answer to the question of that name. */
  readonly existingTaskData: string | undefined;
  readonly today: Date;
  readonly disk: DiskCalls;
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
}

export interface StickTold {
  readonly stick: Stick;
  readonly files: number;
  readonly heldBack: StickSet["heldBack"];
  readonly older: readonly string[];
  /** Folder that the existing TASKDATA was moved to. */
  readonly movedTaskData: string | null;
  readonly doubts: readonly string[];
}

/**
 * From a build to a stick: looks at what is there, asks what must be asked before anything is written, makes the set, remembers
 * it and writes it. Throws a `QuestionError` with `zero-rate` and `existing-taskdata`, and what `stickSet`,
 * `refuseStrangers` and `writeStick` throw.
 */
export async function putOnStick(job: PutOnStick): Promise<StickTold> {
  const { to, disk } = job;
  try {
    const there = stickThere(to, disk);
    const lock = takeLock(`${to}/stick.lock`, disk);
    try {
      return await lookAndWrite(job, there);
    } finally {
      lock.release();
    }
  } catch (error) {
    throw diskError(error, to);
  }
}

async function lookAndWrite(job: PutOnStick, there: StickThere): Promise<StickTold> {
  const { to, disk, pass, record } = job;
  const doubts: string[] = [];
  if (there.isBegun) doubts.push(`${to}: an earlier writing was interrupted; it is done anew.`);
  if (there.stick !== null && there.stick.pass !== pass) throw otherMachine(to, there.stick);
  const questions: Question[] = [];
  const zeroRate = settled(job.zeroRate, questions) ?? { does: "off" };
  const held = job.reissue ? [] : Object.keys(record[pass].marks);
  const { kept, keptMaps } = keptOnStick(there.stick, held, to, disk);
  const make = (taskData: boolean): Promise<StickSet> =>
    stickSet({
      ...job,
      zeroRate,
      taskData,
      revisionThere: there.stick?.revisionNumber ?? 0,
      kept,
      keptMaps,
    });
  const present = taskDataOn(to, disk);
  const set = await make(present === null || job.existingTaskData !== KEEP);
  const hasTasks = [...set.files.keys()].some((path) => path.startsWith("TASKDATA/"));
  const isInTheWay = hasTasks && present !== null && !isOurTaskData(to, set.files, disk);
  if (isInTheWay && job.existingTaskData !== MOVE_ASIDE) {
    const inside = filesBelow(to, disk, present);
    questions.push(taskDataQuestion(`${to}/${present}`, inside, job.existingTaskData));
  }
  if (questions.length > 0) throw new QuestionError(questions);
  refuseStrangers(to, set.files, disk);
  const moveTaskDataTo = isInTheWay ? folderAside(to, job.today, disk) : null;
  job.saveRecord(set.record);
  await writeStick(
    to,
    {
      files: set.files,
      moveTaskDataTo,
      ...(job.signal ? { signal: job.signal } : {}),
      ...(job.onProgress ? { onProgress: job.onProgress } : {}),
    },
    disk,
  );
  const stems = Object.keys(set.record[pass].maps);
  return {
    stick: set.stick,
    files: set.files.size,
    heldBack: set.heldBack,
    older: olderMaps(stickThere(to, disk).others, set.record[pass].names, stems),
    movedTaskData: moveTaskDataTo,
    doubts,
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
function keptOnStick(
  stick: Stick | null,
  held: readonly string[],
  root: string,
  disk: DiskCalls,
): { kept: Map<string, Uint8Array>; keptMaps: StickMap[] } {
  const kept = new Map<string, Uint8Array>();
  const listed = listedIn(`${root}/manifest.json`, disk);
  const keptMaps = (stick?.maps ?? []).filter(
    (map) =>
      held.includes(map.field) &&
      map.files.every((path) => listed.has(path) && disk.kind(`${root}/${path}`) === "file"),
  );
  for (const path of keptMaps.flatMap((map) => map.files)) kept.set(path, disk.read(`${root}/${path}`));
  return { kept, keptMaps };
}

function folderAside(root: string, today: Date, disk: DiskCalls): string {
  return datedFolder(dayOf(today), (name) => disk.kind(`${root}/${name}`) !== null);
}
