import {
  type Answers,
  besideParts,
  builtMaps,
  type FileSource,
  type LedgerLook,
  type LedgerLookInput,
  loadedEarlier,
  lookInLedger,
  manifestPath,
  olderOn,
  type Plan,
  prepareStick,
  readManifest,
  type Stick,
  type StickPass,
  type StickRecord,
  type StickSet,
  zeroRateOf,
  zerosInWords,
} from "#core";
import { stickError } from "./stick-error.ts";
import { StickFolder } from "./stick-folder.ts";
import { writeStick } from "./write-stick.ts";

/** What the page asks of a stick; the build and the plan come beside it. */
export interface StickErrand {
  readonly pass: StickPass;
  readonly record: StickRecord;
  /** Write fields that are marked as loaded or done too. */
  readonly reissue: boolean;
  readonly answers: Answers;
  /** YYYY-MM-DD. */
  readonly today: string;
}

export interface StickTold {
  readonly stick: Stick;
  /** Files written, besides the manifest. */
  readonly files: number;
  /** Holes at 0 that this controller must not get, in words; empty where there are none. */
  readonly holes: string;
  readonly heldBack: StickSet["heldBack"];
  /** What the plan's ledger says of the fields. */
  readonly look: LedgerLook;
  /** Fields that are loaded or done with strip maps of an earlier plan, in words. */
  readonly earlier: readonly string[];
  readonly older: readonly string[];
  /** What else stands on the stick, older maps among it: names as an operator finds them. */
  readonly beside: readonly string[];
  /** Catch-up maps of other fields on it, to be loaded for those. */
  readonly catchUps: readonly string[];
  /** Folder that the existing TASKDATA was moved to. */
  readonly movedTaskData: string | null;
}

export interface StickHearers {
  /** Once, before anything is written: what is to be remembered even if the writing is cut off. */
  readonly onBegun: (record: StickRecord) => void;
  readonly onProgress: (done: number, total: number) => void;
}

/**
 * From a build and the plan's ledger into the folder that the user chose. Throws what `lookInLedger`, `prepareStick` and
 * `writeStick` throw; what the browser says against the folder comes in words.
 */
export async function putOnStick(
  root: FileSystemDirectoryHandle,
  build: FileSource,
  plan: Plan,
  entries: LedgerLookInput["entries"],
  errand: StickErrand,
  hearers: StickHearers,
): Promise<StickTold> {
  try {
    return await put(new StickFolder(root), build, plan, entries, errand, hearers);
  } catch (error) {
    throw stickError(error, root.name);
  }
}

async function put(
  folder: StickFolder,
  build: FileSource,
  plan: Plan,
  entries: LedgerLookInput["entries"],
  errand: StickErrand,
  { onBegun, onProgress }: StickHearers,
): Promise<StickTold> {
  const { pass, record, reissue, answers, today } = errand;
  const { planSha256, toolVersion } = readManifest(await build.read(manifestPath), manifestPath);
  const maps = await builtMaps(build);
  const look = await lookInLedger({ entries, build, maps, pass, asked: [], reissue });
  const { only } = look;
  const earlier = loadedEarlier(record, maps, plan, { pass, only, reissue });
  const { set, aside, beside, replaced } = await prepareStick(folder, {
    build,
    plan,
    planSha256,
    toolVersion,
    pass,
    only,
    said: [...look.said, ...earlier],
    leftOut: look.leftOut,
    reissue,
    record,
    zeroRate: () => zeroRateOf(plan.controller, answers),
    existingTaskData: answers["existing-taskdata"],
    today,
  });
  onBegun(set.record);
  await writeStick(folder, { files: set.files, aside, onProgress });
  return {
    stick: set.stick,
    files: set.files.size - 1,
    holes: zerosInWords(set.stick),
    heldBack: set.heldBack,
    look,
    earlier,
    older: await olderOn(folder, set, replaced),
    beside: besideParts(pass, beside).others,
    catchUps: besideParts(pass, beside).catchUps,
    movedTaskData: aside?.to ?? null,
  };
}
