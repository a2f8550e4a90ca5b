import { InputError } from "../errors/index.ts";
import { cameBackDifferent, journalPath, manifestPath, sameBytes } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { nextTurn } from "./next-turn.ts";
import { listedIn, makeFoldersAbove, standingOf } from "./stick-files.ts";
import { writeNew } from "./write-new.ts";

export interface StickWriting {
  /** Every file, manifest.json among them. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The folder TASKDATA that is in the way, and the dated one it becomes; null when there is none to move. */
  readonly aside: { readonly from: string; readonly to: string } | null;
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
}

/** A file written whole: what the disk did not take to its end is taken away again. Throws what the disk said, with the file's name. */
function writeWhole(path: string, bytes: Uint8Array, disk: DiskCalls): void {
  try {
    writeNew(path, bytes, disk);
  } catch (error) {
    const said = diskError(error, path);
    const isGone = removed(path, disk);
    if (!(said instanceof InputError) || said.code !== "disk-full") throw said;
    const half = isGone ? "" : "; the part of it that was written could not be taken away";
    throw new InputError(
      "disk-full",
      `${said.message}${half}`,
      "Make room or use another stick, then write it once more; load nothing from it until then.",
      { cause: error },
    );
  }
}

function removed(path: string, disk: DiskCalls): boolean {
  try {
    if (disk.kind(path) !== null) disk.removeFile(path);
    return true;
  } catch {
    return false; // a stick that was pulled out; its journal says that it is incomplete
  }
}

const oursOn = (root: string, disk: DiskCalls): Set<string> =>
  new Set(
    [`${root}/${manifestPath}`, `${root}/${journalPath}`].flatMap((path) => [...listedIn(path, disk).keys()]),
  );

/**
 * Puts a set on a stick: a journal with the hashes of all to come, an existing TASKDATA out of the way, the files, all of
 * them read back, and last the manifest, which is the journal given its name. Whatever stops it, the stick holds the
 * set it held, or one whose journal or manifest says that it is incomplete. Files of other revisions stay.
 * Files that are there with the same bytes are not written again. Throws `came-back-different`.
 */
export async function writeStick(root: string, writing: StickWriting, disk: DiskCalls): Promise<void> {
  const { files, aside, signal, onProgress } = writing;
  const ours = oursOn(root, disk);
  for (const path of files.keys()) if (path.startsWith("TASKDATA/")) ours.add(path);
  const left = listedIn(`${root}/${journalPath}`, disk);
  const stays = listedIn(`${root}/${manifestPath}`, disk);
  const journal = `${root}/${journalPath}`;
  const fresh = `${journal}er`;
  if (disk.kind(fresh) !== null) disk.removeFile(fresh);
  writeWhole(fresh, files.get(manifestPath)!, disk);
  // Halves that an interrupted writing left under names of its own; the set on the stick has none of them.
  for (const path of left.keys()) {
    if (stays.has(path) || files.has(path) || disk.kind(`${root}/${path}`) !== "file") continue;
    if (!path.startsWith("TASKDATA/")) disk.removeFile(`${root}/${path}`);
  }
  disk.rename(fresh, journal);
  if (aside !== null) disk.rename(`${root}/${aside.from}`, `${root}/${aside.to}`);
  const paths = [...files.keys()].filter((path) => path !== manifestPath);
  for (const [at, path] of paths.entries()) {
    await nextTurn();
    signal?.throwIfAborted();
    makeFoldersAbove(root, path, disk);
    const bytes = files.get(path)!;
    const standing = standingOf(root, path, bytes, ours, disk);
    if (standing === "stranger") throw new Error(`${path} came in the way`);
    if (standing === "ours") disk.removeFile(`${root}/${path}`);
    if (standing !== "same") writeWhole(`${root}/${path}`, bytes, disk);
    onProgress?.(at + 1, paths.length);
  }
  for (const folder of new Set(paths.map((path) => path.slice(0, Math.max(0, path.lastIndexOf("/")))))) {
    disk.syncFolder(folder === "" ? root : `${root}/${folder}`);
  }
  for (const path of [...paths, journalPath]) {
    const meant = files.get(path === journalPath ? manifestPath : path)!;
    if (sameBytes(disk.read(`${root}/${path}`), meant)) continue;
    throw cameBackDifferent(path);
  }
  signal?.throwIfAborted();
  disk.rename(journal, `${root}/${manifestPath}`);
  disk.syncFolder(root);
}
