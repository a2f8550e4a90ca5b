import {
  olderOn,
  prepareStick,
  type Stick,
  type StickJob,
  type StickPlace,
  type StickRecord,
  type StickSet,
} from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { takeLock } from "./folder-lock.ts";
import { stickPlace } from "./stick-place.ts";
import { refuseWithoutRoom } from "./stick-room.ts";
import { writeStick } from "./write-stick.ts";

interface PutOnStick extends StickJob {
  readonly to: string;
  /** Called once, before anything is written to the stick. */
  readonly saveRecord: (record: StickRecord) => void;
  readonly disk: DiskCalls;
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
}

export interface StickTold {
  readonly stick: Stick;
  /** Files written, besides the manifest, as `check` counts them. */
  readonly files: number;
  readonly heldBack: StickSet["heldBack"];
  /** Fields that were not asked for and stand on the stick as they are. */
  readonly standing: readonly string[];
  readonly older: readonly string[];
  /** Folder that the existing TASKDATA was moved to. */
  readonly movedTaskData: string | null;
  /** What else stands on the stick, in words. */
  readonly beside: readonly string[];
  readonly doubts: readonly string[];
}

/**
 * From a build to a stick: looks at what is there, asks what must be asked before anything is written, makes the set, remembers
 * it and writes it. Throws what `prepareStick` and `writeStick` throw.
 */
export async function putOnStick(job: PutOnStick): Promise<StickTold> {
  const { to, disk } = job;
  try {
    const place = stickPlace(to, disk);
    const lock = lockWhereRoom(to, disk);
    try {
      return await lookAndWrite(job, place, lock === null);
    } finally {
      lock?.release();
    }
  } catch (error) {
    throw diskError(error, to);
  }
}

/** The stick's lock; null where the stick is too full for one: nothing can be written then, but what room is needed can be told. */
function lockWhereRoom(to: string, disk: DiskCalls): ReturnType<typeof takeLock> | null {
  try {
    return takeLock(`${to}/stick.lock`, to, disk);
  } catch (error) {
    if (["ENOSPC", "EDQUOT"].includes((error as NodeJS.ErrnoException).code ?? "")) return null;
    throw error;
  }
}

async function lookAndWrite(job: PutOnStick, place: StickPlace, isFull: boolean): Promise<StickTold> {
  const { to, disk } = job;
  const { set, aside, standing, wasBegun, beside, replaced } = await prepareStick(place, job);
  refuseWithoutRoom(to, { files: set.files, aside }, isFull, disk);
  job.saveRecord(set.record);
  await writeStick(
    to,
    {
      files: set.files,
      aside,
      ...(job.signal ? { signal: job.signal } : {}),
      ...(job.onProgress ? { onProgress: job.onProgress } : {}),
    },
    disk,
  );
  return {
    stick: set.stick,
    files: set.files.size - 1,
    heldBack: set.heldBack,
    standing,
    older: await olderOn(place, set, replaced),
    movedTaskData: aside?.to ?? null,
    beside,
    doubts: wasBegun ? [`${to}: an earlier writing was interrupted; it is done anew.`] : [],
  };
}
