import { InputError, type Question, QuestionError } from "../errors/index.ts";
import { isCatchUpName, planHash, type ZeroRate } from "../plan/index.ts";
import { type BuiltMap, builtMaps } from "./built-maps.ts";
import { isAsBuilt } from "./loaded-earlier.ts";
import { manifestPath } from "./manifest.ts";
import { catchUpClashes } from "./map-files.ts";
import { sameBytes } from "./same-bytes.ts";
import { type Stick, type StickMap, sheetsOfEarlier, stickPath } from "./stick-json.ts";
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
import { type StickInput, type StickSet, stickSet } from "./stick-set.ts";

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
  /** Fields that are not written whatever the stick has of them, as their pass is done. */
  readonly leftOut?: readonly string[];
  /** YYYY-MM-DD. */
  readonly today: string;
}

/** A stick's set, ready to be written. */
export interface PreparedStick {
  readonly set: StickSet;
  /** A TASKDATA that has to give way, and the dated folder it goes to. */
  readonly aside: { readonly from: string; readonly to: string } | null;
  /** Fields that were not asked for and stand on the stick as they are; they stay part of the set. */
  readonly standing: readonly string[];
  /** An earlier writing was interrupted. */
  readonly wasBegun: boolean;
  /** What else will stand on the stick, in words. */
  readonly beside: readonly string[];
  /** Maps that the stick's set had of the same fields and has no more: paths, as `olderOn` takes them. */
  readonly replaced: readonly string[];
}

const TASKS = "TASKDATA/TASKDATA.XML";

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
  const built = await builtMaps(job.build);
  const names = stickNames(built, job.plan.controller?.nameLength);
  const standing = fieldsStanding(looked, built, job);
  // Of a field whose pass is done nothing on the stick is to be loaded any more.
  const isHeld = (field: string): boolean =>
    !(job.leftOut ?? []).includes(field) && !(reissue && (job.only.length === 0 || job.only.includes(field)));
  const input: StickInput = {
    ...job,
    only: [...job.only, ...standing],
    zeroRate,
    taskData: true,
    revisionThere: Math.max(looked.stick?.revisionNumber ?? 0, highestLetter(looked.files, names.values())),
    ...(await keptOnStick(place, looked, built, job, Object.keys(record[pass].marks).filter(isHeld))),
  };
  const whole = await stickSet(input);
  const isInTheWay = taskData !== null && (await givesWay(place, looked, whole, taskData));
  const stays = isInTheWay && job.existingTaskData === KEEP;
  const set = stays ? await stickSet({ ...input, taskData: false }) : whole;
  if (isInTheWay && !stays && job.existingTaskData !== MOVE_ASIDE) {
    const inside = looked.files.filter((path) => path.startsWith(`${taskData}/`));
    questions.push(taskDataQuestion(`${place.name}/${taskData}`, inside, job.existingTaskData));
  }
  if (questions.length > 0) throw new QuestionError(questions);
  refuseCatchUps(place, looked, set);
  const wasBegun = looked.files.includes(journalPath);
  await refuseStrangers(place, looked, set.files);
  const taken = await place.names();
  const aside =
    isInTheWay && !stays
      ? { from: taskData, to: datedFolder(job.today, (name) => taken.includes(name)) }
      : null;
  const moved = looked.files.map((path) =>
    aside !== null && path.startsWith(`${aside.from}/`)
      ? `${aside.to}${path.slice(aside.from.length)}`
      : path,
  );
  const sheets = sheetsOfEarlier(set.stick.maps);
  const beside = besideSet(
    moved.filter((path) => !sheets.includes(path)),
    [...set.files.keys()],
  );
  const told = { aside, standing, wasBegun, beside, replaced: replacedBy(set, looked.stick) };
  if (beside.length === 0) return { set, ...told };
  return { set: await stickSet({ ...input, taskData: !stays, beside }), ...told };
}

/** Fields besides those asked for whose maps stand on the stick as this build has them; marked ones are kept anyway. */
function fieldsStanding(
  { stick, listed, files }: Looked,
  built: readonly BuiltMap[],
  { plan, pass, only, leftOut = [], record }: StickJob,
): string[] {
  if (stick === null || only.length === 0) return [];
  const isSamePlan = stick.planHash === planHash(plan);
  const own = built.filter((map) => map.pass === pass);
  const fields = [...new Set(own.map(({ field }) => field))].filter(
    (field) => ![...only, ...leftOut].includes(field) && record[pass].marks[field] === undefined,
  );
  const isThere = (map: BuiltMap): boolean => {
    const onStick = stick.maps.find(({ stem }) => stem === map.stem);
    return (
      onStick !== undefined &&
      isAsBuilt(onStick, map, { listed, isSamePlan }) &&
      onStick.files.every((path) => files.includes(path)) &&
      (onStick.files.length > 0 || files.includes(TASKS))
    );
  };
  return fields.filter((field) => own.every((map) => map.field !== field || isThere(map)));
}

/** Files of the maps that a stick had of the fields of a new set and that are not in it, such as the whole field's beside a remainder's. */
function replacedBy({ stick, files }: StickSet, before: Stick | null): string[] {
  const fields = new Set(stick.maps.map(({ field }) => field));
  const own = before?.maps.filter(({ field }) => fields.has(field)) ?? [];
  return own.flatMap((map) => map.files).filter((path) => path.endsWith(".shp") && !files.has(path));
}

/** Older maps of the same fields that are on the stick after it was written; `replaced` as `prepareStick` told them. */
export async function olderOn(
  place: StickPlace,
  { record, stick }: StickSet,
  replaced: readonly string[],
): Promise<readonly string[]> {
  const { files, listed } = await look(place);
  const { names, maps } = record[stick.pass];
  const others = othersOn(files, listed);
  const older = olderMaps(others, names, Object.keys(maps));
  return others.filter((path) => older.includes(path) || replaced.includes(path));
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
  built: readonly BuiltMap[],
  { plan }: StickJob,
  held: readonly string[],
): Promise<{ kept: ReadonlyMap<string, Uint8Array>; keptMaps: readonly StickMap[] }> {
  const kept = new Map<string, Uint8Array>();
  const keptMaps: StickMap[] = [];
  const isSamePlan = stick?.planHash === planHash(plan);
  for (const map of (stick?.maps ?? []).filter(({ field }) => held.includes(field))) {
    const found: (readonly [string, Uint8Array])[] = [];
    for (const path of map.files) {
      const bytes = listed.has(path) ? await place.read(path) : null;
      if (bytes !== null && bytes !== "other") found.push([path, bytes]);
    }
    // Task data is one set: what this writing leaves of it has no task of a field that is not written.
    if (found.length === 0 || found.length < map.files.length) continue;
    const asBuilt = built.find(({ stem }) => stem === map.stem);
    const { ofEarlierPlan: _, ...own } = map;
    keptMaps.push(isAsBuilt(map, asBuilt, { listed, isSamePlan }) ? own : { ...own, ofEarlierPlan: true });
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

/** Throws `catch-up-and-broadcast` where catch-up maps stand on the stick whose place is that of maps about to be written. */
function refuseCatchUps(place: StickPlace, { files }: Looked, { stick }: StickSet): void {
  const clashes = catchUpClashes(files.filter(isCatchUpName), stick.maps);
  if (clashes.length === 0) return;
  const lines = clashes.map(({ catchUp, planned }) => `${catchUp} takes the place of ${planned}`);
  throw new InputError(
    "catch-up-and-broadcast",
    `${place.name} holds catch-up maps of fields whose planned broadcast maps are to be written; spread both and the ground gets it twice: ${lines.join("; ")}`,
    "Use an empty stick for the catch-up maps, or take them off this one; nothing was written.",
  );
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
