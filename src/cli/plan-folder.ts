import { mkdirSync, readFileSync, realpathSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { InputError, type Notice } from "../errors/index.ts";
import { packShapefiles } from "../formats/index.ts";
import { type Plan, replacedPlan, writePlan } from "../plan/index.ts";
import { sameBytes } from "../publish/index.ts";
import { realDisk } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { withShapefileParts } from "./gather-input.ts";
import { replaceFile } from "./write-new.ts";

interface GatheredFile {
  /** Where it will stand in the plan's folder. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * Reads the files for a plan. One that already lies in the plan's folder keeps its path, another will be copied
 * under its own name. A .shp brings the files of its name with it, and they become one zip. Throws `same-file-name` when
 * two would stand under one name, and what the disk refuses.
 */
export async function gatherFiles(folder: string, paths: readonly string[]): Promise<GatheredFile[]> {
  const root = realOrResolved(folder);
  const files = (await Promise.all(paths.map(withShapefileParts))).flat().map((path) => {
    try {
      const real = realpathSync(path);
      const inside = relative(root, real);
      const isInside = inside !== "" && inside.split(sep)[0] !== ".." && !inside.startsWith(sep);
      const kept = isInside ? inside.split(sep).join("/") : basename(path);
      return { path: kept, bytes: new Uint8Array(readFileSync(real)), real };
    } catch (error) {
      throw diskError(error, path);
    }
  });
  const byPath = new Map<string, string>();
  for (const file of files) {
    const other = byPath.get(file.path.toLowerCase());
    if (other !== undefined && other !== file.real) {
      throw new InputError(
        "same-file-name",
        `${other} and ${file.real} would both be called ${file.path} in ${folder}`,
        "Rename one of them.",
      );
    }
    byPath.set(file.path.toLowerCase(), file.real);
  }
  const once = files.filter((file, i) => files.findIndex((one) => one.path === file.path) === i);
  return packShapefiles(once.map(({ path, bytes }) => [path, bytes])).map(([path, bytes]) => ({
    path,
    bytes,
  }));
}

/**
 * Writes plan.json last, so that an interrupted run leaves no plan, and every file under another name first, so that none
 * is left half written. A file that is there already must be the same, an existing plan.json is replaced only with
 * `overwrite`, and then kept beside the new one under a name that nothing has: much of it was typed. Notices say what it has.
 * Throws `plan-exists`, `file-in-the-way`, and what the disk refuses.
 */
export async function writePlanFolder(
  folder: string,
  files: readonly GatheredFile[],
  plan: Plan,
  overwrite: boolean,
): Promise<readonly Notice[]> {
  const planPath = join(folder, "plan.json");
  const bytes = writePlan(plan);
  try {
    const isThere = realDisk.kind(planPath) !== null;
    if (isThere && !overwrite) {
      throw new InputError(
        "plan-exists",
        `${planPath} is there already`,
        "Choose another folder. A file more is added, and all that is typed stays, where it is dropped on the page (`bermplan serve` with this folder); --overwrite makes the plan anew and keeps the old one beside it.",
      );
    }
    for (const file of files) {
      const path = join(folder, file.path);
      if (realDisk.kind(path) !== null && !sameBytes(realDisk.read(path), file.bytes)) {
        const remedy = "Rename one of them; nothing was written.";
        throw new InputError(
          "file-in-the-way",
          `${path} is there already and differs from the file given`,
          remedy,
        );
      }
    }
    mkdirSync(folder, { recursive: true });
    for (const file of files) {
      mkdirSync(dirname(join(folder, file.path)), { recursive: true });
      if (realDisk.kind(join(folder, file.path)) === null)
        replaceFile(join(folder, file.path), file.bytes, realDisk);
    }
    const before = isThere ? realDisk.read(planPath) : bytes;
    const kept = sameBytes(before, bytes) ? null : keptPath(folder);
    if (kept !== null) replaceFile(kept, before, realDisk);
    replaceFile(planPath, bytes, realDisk);
    return kept === null ? [] : [replacedPlan(before, plan, { path: planPath, kept })];
  } catch (error) {
    throw diskError(error, folder);
  }
}

/** The first of `plan-before-1.json`, `plan-before-2.json` and so on that is not there. */
function keptPath(folder: string): string {
  for (let n = 1; ; n++) {
    const path = join(folder, `plan-before-${n}.json`);
    if (realDisk.kind(path) === null) return path;
  }
}

function realOrResolved(folder: string): string {
  try {
    return realpathSync(folder);
  } catch {
    return resolve(folder);
  }
}
