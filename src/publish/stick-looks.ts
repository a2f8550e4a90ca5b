import { InputError, type Question } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import { isCatchUpName } from "../plan/index.ts";
import { remainderOf } from "../prescription/index.ts";
import { counted } from "../units/index.ts";
import { manifestPath, readManifest } from "./manifest.ts";
import { type Stick, stickPath } from "./stick-json.ts";

/** The manifest of a set that is being written; it becomes `manifest.json` when every file is there. */
export const journalPath = "manifest.new";

/** Answers to the question `existing-taskdata`. */
export const MOVE_ASIDE = "move-aside";
export const KEEP = "keep";

/** Paths with their hashes as a manifest or a journal of ours lists them; none where it is none of ours, or absent. */
export function filesListed(bytes: Uint8Array | null, path: string): ReadonlyMap<string, string> {
  if (bytes === null) return new Map();
  try {
    return new Map(readManifest(bytes, path).files.map((file) => [file.path, file.sha256]));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return new Map();
  }
}

/** What stick.json says, where the manifest lists it and it is as listed. */
export function stickAsListed(listed: ReadonlyMap<string, string>, bytes: Uint8Array | null): Stick | null {
  if (bytes === null || sha256Hex(bytes) !== listed.get(stickPath)) return null;
  return JSON.parse(new TextDecoder().decode(bytes)) as Stick;
}

const OWN = new Set([manifestPath, journalPath, `${journalPath}er`, "stick.lock"]);

/** Files on a stick that its manifest does not list; what the system keeps there left out. */
export const othersOn = (present: readonly string[], listed: ReadonlyMap<string, string>): string[] =>
  present.filter(
    (path) =>
      !listed.has(path) &&
      !OWN.has(path) &&
      !/^(System Volume Information|\.Trash[^/]*|\.[^/]+)(\/|$)/.test(path),
  );

const SHAPE_PARTS = /\.(shx|dbf|prj|cpg)$/i;
const withoutEnding = (path: string): string => path.replace(/\.[^./]*$/, "").toUpperCase();

/**
 * What stands beside a set, as an operator finds it: a folder that the set writes nothing to by its name, with how many files
 * are in it; else each file, a shapefile once (a part of one that has no .shp by itself), and so each catch-up map in a folder. What the system
 * keeps there left out.
 */
export function besideSet(present: readonly string[], set: readonly string[]): string[] {
  const own = new Set(set.flatMap((path) => (path.includes("/") ? [topOf(path)] : [])));
  const folders = new Map<string, number>();
  const single: string[] = [];
  const others = othersOn(present, new Map(set.map((one) => [one, ""])));
  const shapes = new Set(others.filter((path) => /\.shp$/i.test(path)).map(withoutEnding));
  for (const path of others) {
    const top = topOf(path);
    if (path.includes("/") && !own.has(top) && !isCatchUpName(path))
      folders.set(top, (folders.get(top) ?? 0) + 1);
    else if (!SHAPE_PARTS.test(path) || !shapes.has(withoutEnding(path))) single.push(path);
  }
  return [...[...folders].map(([name, count]) => `${name} (${counted(count, "file")})`), ...single];
}

const topOf = (path: string): string => path.split("/", 1)[0]!;

/** Older maps of the build's fields on a stick: files whose name was given to a map once and is not listed now. */
export function olderMaps(
  others: readonly string[],
  names: Readonly<Record<string, string>>,
  stems: readonly string[],
): string[] {
  // Beside the map of a remainder the whole field's of that bin is to go, whatever its product.
  const isOfStem = (stem: string, name: string): boolean => {
    const begin = remainderOf(stem);
    return new RegExp(`^${begin === null ? stem : `${begin}[A-Z0-9]+`}[FK]?(_[A-Z]{1,2})?$`).test(name);
  };
  const isOld = (name: string): boolean =>
    names[name] !== undefined || stems.some((stem) => isOfStem(stem, name));
  return others.filter((path) => {
    const [, name, ending] = /([^/]+)\.([^./]+)$/.exec(path) ?? [];
    return name !== undefined && /^(shp|geojson)$/i.test(ending!) && isOld(name);
  });
}

/** Asked where the stick's TASKDATA is not the one to be written; `files` are those in it. */
export function taskDataQuestion(
  folder: string,
  files: readonly string[],
  answer: string | undefined,
): Question {
  const logs = files.filter((path) => /\/TLG\d+\.(bin|xml)$/i.test(path)).length;
  const seen = `${folder} with ${counted(files.length, "file")}${logs > 0 ? `, ${logs} of them logs of work done` : ""}`;
  return {
    key: "existing-taskdata",
    text:
      "The stick holds a TASKDATA, which may have logs that nobody has saved. move-aside: it becomes a dated folder, whole, and " +
      "the new one is written. keep: leave it, and write everything but task data.",
    choices: [MOVE_ASIDE, KEEP],
    seen: answer === undefined ? seen : `${seen}; answered “${answer}”`,
  };
}

/** `TASKDATA_20270315` for a date written 2027-03-15, with a number behind it where that is taken. */
export function datedFolder(date: string, isTaken: (name: string) => boolean): string {
  const name = `TASKDATA_${date.replaceAll("-", "")}`;
  for (let n = 1; ; n++) {
    const tried = n === 1 ? name : `${name}_${n}`;
    if (!isTaken(tried)) return tried;
  }
}

/** Thrown where a stick is the other machine's. */
export const otherMachine = (where: string, stick: Stick): InputError =>
  new InputError(
    "other-machine",
    `${where} is the stick of the ${stick.pass} pass`,
    "Use a stick for each machine, or an empty folder.",
  );

/** Thrown where a file stands under a name to be written, and no manifest or journal of ours lists it. */
export const fileInTheWay = (where: string, why: string): InputError =>
  new InputError(
    "file-in-the-way",
    `${where} is there${why}`,
    "Move it elsewhere, or use another folder; nothing was written.",
  );

/** Thrown where a file on the stick is not what was written to it. */
export const cameBackDifferent = (path: string): InputError =>
  new InputError(
    "came-back-different",
    `${path} came back from the stick different from what was written`,
    "Do not use this stick; write to another one.",
  );
