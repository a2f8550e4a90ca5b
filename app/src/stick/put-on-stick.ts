import {
  datedFolder,
  type FileSource,
  fileInTheWay,
  filesListed,
  journalPath,
  KEEP,
  MOVE_ASIDE,
  manifestPath,
  olderMaps,
  otherMachine,
  othersOn,
  type Plan,
  type Question,
  QuestionError,
  readManifest,
  type Stick,
  type StickMap,
  type StickPass,
  type StickRecord,
  type StickSet,
  stickAsListed,
  stickPath,
  stickSet,
  taskDataQuestion,
  zeroRateOf,
} from "#core";
import type { StickFolder } from "./stick-folder.ts";
import { isSame, writeStick } from "./write-stick.ts";

export interface StickJob {
  readonly pass: StickPass;
  readonly record: StickRecord;
  /** Write fields that are marked as loaded or done too. */
  readonly reissue: boolean;
  readonly answers: Readonly<Record<string, string>>;
  /** YYYY-MM-DD. */
  readonly today: string;
}

export interface StickTold {
  readonly stick: Stick;
  readonly files: number;
  readonly heldBack: StickSet["heldBack"];
  readonly older: readonly string[];
  /** Folder that the existing TASKDATA was moved to. */
  readonly movedTaskData: string | null;
  readonly wasBegun: boolean;
  readonly record: StickRecord;
}

interface Looked {
  readonly present: readonly string[];
  readonly listed: ReadonlyMap<string, string>;
  readonly ours: ReadonlySet<string>;
  readonly stick: Stick | null;
  /** The folder TASKDATA as the stick spells it. */
  readonly taskData: string | null;
}

/**
 * From a build to a stick: looks at what is there, asks what must be asked before anything is written, makes the set and writes
 * it. Throws a `QuestionError` with `zero-rate` and `existing-taskdata`, and what `stickSet` and `writeStick` throw.
 */
export async function putOnStick(
  folder: StickFolder,
  build: FileSource,
  plan: Plan,
  job: StickJob,
  onProgress: (done: number, total: number) => void,
): Promise<StickTold> {
  const { pass, record, reissue, answers } = job;
  const looked = await look(folder);
  if (looked.stick !== null && looked.stick.pass !== pass) throw otherMachine(folder.name, looked.stick);
  const questions: Question[] = [];
  const zeroRate = settled(() => zeroRateOf(plan.controller, answers), questions) ?? { does: "off" as const };
  const held = reissue ? [] : Object.keys(record[pass].marks);
  const { planSha256, toolVersion } = readManifest(await build.read(manifestPath), manifestPath);
  const set = await stickSet({
    build,
    plan,
    planSha256,
    toolVersion,
    pass,
    only: [],
    reissue,
    record,
    zeroRate,
    taskData: looked.taskData === null || answers["existing-taskdata"] !== KEEP,
    revisionThere: looked.stick?.revisionNumber ?? 0,
    ...(await keptOnStick(folder, looked, held)),
  });
  const aside = await standsAside(folder, looked, set, job, questions);
  if (questions.length > 0) throw new QuestionError(questions);
  await refuseStrangers(folder, looked, set.files);
  await writeStick(folder, { files: set.files, aside, onProgress });
  const after = await look(folder);
  const stems = Object.keys(set.record[pass].maps);
  return {
    stick: set.stick,
    files: set.files.size,
    heldBack: set.heldBack,
    older: olderMaps(othersOn(after.present, after.listed), set.record[pass].names, stems),
    movedTaskData: aside?.to ?? null,
    wasBegun: looked.present.includes(journalPath),
    record: set.record,
  };
}

async function look(folder: StickFolder): Promise<Looked> {
  const listed = filesListed(await folder.read(manifestPath), manifestPath);
  const journal = filesListed(await folder.read(journalPath), journalPath);
  return {
    present: await folder.files(),
    listed,
    ours: new Set([...listed.keys(), ...journal.keys()]),
    stick: stickAsListed(listed, await folder.read(stickPath)),
    taskData: (await folder.names()).find((name) => name.toUpperCase() === "TASKDATA") ?? null,
  };
}

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
  folder: StickFolder,
  { stick, listed, present }: Looked,
  held: readonly string[],
): Promise<{ kept: ReadonlyMap<string, Uint8Array>; keptMaps: readonly StickMap[] }> {
  const keptMaps = (stick?.maps ?? []).filter(
    (map) =>
      held.includes(map.field) && map.files.every((path) => listed.has(path) && present.includes(path)),
  );
  const kept = new Map<string, Uint8Array>();
  for (const path of keptMaps.flatMap((map) => map.files)) kept.set(path, (await folder.read(path))!);
  return { kept, keptMaps };
}

/** Whether a TASKDATA has to give way, and where to; unless it is ours, or the beginning of ours. */
async function standsAside(
  folder: StickFolder,
  { taskData, present }: Looked,
  { files }: StickSet,
  { answers, today }: StickJob,
  questions: Question[],
): Promise<{ from: string; to: string } | null> {
  const hasTasks = [...files.keys()].some((path) => path.startsWith("TASKDATA/"));
  if (!hasTasks || taskData === null) return null;
  const inside = present.filter((path) => path.startsWith(`${taskData}/`));
  if (taskData === "TASKDATA" && (await areOurs(folder, inside, files))) return null;
  const answer = answers["existing-taskdata"];
  if (answer !== MOVE_ASIDE) {
    questions.push(taskDataQuestion(`${folder.name}/${taskData}`, inside, answer));
    return null;
  }
  const names = await folder.names();
  return { from: taskData, to: datedFolder(today, (name) => names.includes(name)) };
}

async function areOurs(
  folder: StickFolder,
  inside: readonly string[],
  files: ReadonlyMap<string, Uint8Array>,
): Promise<boolean> {
  for (const path of inside) {
    const bytes = (await folder.read(path))!;
    const meant = files.get(path);
    if (meant === undefined || !isSame(bytes, meant.subarray(0, bytes.length))) return false;
  }
  return true;
}

async function refuseStrangers(
  folder: StickFolder,
  { ours, listed }: Looked,
  files: ReadonlyMap<string, Uint8Array>,
): Promise<void> {
  for (const [path, bytes] of files) {
    if (path.startsWith("TASKDATA/") || path === manifestPath || ours.has(path)) continue;
    const there = await folder.read(path);
    if (there === null || isSame(there, bytes)) continue;
    throw fileInTheWay(`${folder.name}/${path}`, ", with other content, and this tool did not write it");
  }
  if ((await folder.read(manifestPath)) !== null && !listed.has(stickPath)) {
    const why = " and is not of a stick that this tool wrote, or it is damaged";
    throw fileInTheWay(`${folder.name}/${manifestPath}`, why);
  }
}
