import { dirname, resolve } from "node:path";
import { InputError, type Notice } from "../errors/index.ts";
import { checkFiles, manifestPath, readManifest, sameBytes } from "../publish/index.ts";
import { type DiskCalls, realDisk } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { takeLock } from "./folder-lock.ts";
import { nextTurn } from "./next-turn.ts";
import { recoverSwap, settleSwap } from "./recover-swap.ts";
import { refuseOccupied, type SwapPlace, swapPlace } from "./swap-place.ts";
import { writeNew } from "./write-new.ts";

interface PublishSettings {
  /** Replace a set that an earlier run wrote. */
  readonly overwrite: boolean;
  /** Obeyed until the new set is swapped in; then the step is finished. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
  readonly disk?: DiskCalls;
}

/**
 * Puts a set of files in a folder, whole or not at all: whatever stops it, the folder holds the old set or
 * the new one and `recoverSwap` clears away the rest. The files are written beside the folder, synced, read
 * back and compared, and then swapped in by renaming. Folders above are made.
 * `files` must hold a manifest that fits them; if not it is our bug.
 * Gives notices about leftovers that had to stay. Throws `folder-busy`, what `refuseOccupied` throws,
 * `came-back-different`, and what the disk refuses; then nothing has changed.
 */
export async function publishFolder(
  folder: string,
  files: ReadonlyMap<string, Uint8Array>,
  settings: PublishSettings,
): Promise<readonly Notice[]> {
  const disk = settings.disk ?? realDisk;
  await insistOnManifest(files);
  try {
    makeFolders(dirname(resolve(folder)), disk);
    const place = swapPlace(folder);
    if (place === null) throw new Error(`publishFolder: the parent of ${folder} vanished`);
    const lock = takeLock(place.lock, place.shown, disk);
    try {
      const before = await settleSwap(place, disk);
      await refuseOccupied(place, settings.overwrite, disk);
      await writeAndSwap(place, files, settings, disk, lock.confirm);
      const after = await settleSwap(place, disk);
      return after.length > 0 ? after : before;
    } catch (error) {
      await settleSwap(place, disk).catch(() => {}); // the first error is the one to tell; the rest can wait
      throw error;
    } finally {
      lock.release();
    }
  } catch (error) {
    throw diskError(error, folder);
  }
}

/**
 * What a verb asks before it begins to work: clears away what an interrupted run left of the folder, and
 * throws when `publishFolder` would refuse it: a folder that is taken, in use by another run, or where nothing may be
 * written. Leaves nothing behind.
 */
export async function prepareFolder(
  folder: string,
  overwrite: boolean,
  disk: DiskCalls = realDisk,
): Promise<readonly Notice[]> {
  const notices = await recoverSwap(folder, disk);
  try {
    const place = swapPlace(folder);
    if (place !== null) {
      await refuseOccupied(place, overwrite, disk);
      takeLock(place.lock, place.shown, disk).release();
    }
  } catch (error) {
    throw diskError(error, folder);
  }
  return notices;
}

async function writeAndSwap(
  place: SwapPlace,
  files: ReadonlyMap<string, Uint8Array>,
  settings: PublishSettings,
  disk: DiskCalls,
  confirmLock: () => void,
): Promise<void> {
  const id = disk.newId();
  const fresh = place.newOf(id);
  await writeSet(fresh, files, settings, disk);
  settings.signal?.throwIfAborted();
  confirmLock();
  if (disk.kind(place.target) !== null) disk.rename(place.target, place.oldOf(id));
  disk.rename(fresh, place.target);
  disk.syncFolder(place.parent);
}

/** Writes the manifest first, so that even a part of the set can be told to be ours. */
async function writeSet(
  folder: string,
  files: ReadonlyMap<string, Uint8Array>,
  { signal, onProgress }: PublishSettings,
  disk: DiskCalls,
): Promise<void> {
  const folders = new Set([folder]);
  disk.makeFolder(folder);
  const paths = [manifestPath, ...[...files.keys()].filter((path) => path !== manifestPath).sort()];
  for (const [at, path] of paths.entries()) {
    await nextTurn();
    signal?.throwIfAborted();
    makeFoldersOf(`${folder}/${path}`, folders, disk);
    writeNew(`${folder}/${path}`, files.get(path)!, disk);
    onProgress?.(at + 1, paths.length);
  }
  for (const made of folders) disk.syncFolder(made);
  for (const path of paths) {
    if (sameBytes(disk.read(`${folder}/${path}`), files.get(path)!)) continue;
    const message = `${path} came back from the disk different from what was written`;
    throw new InputError("came-back-different", message, "Do not use this disk; write to another one.");
  }
}

function makeFoldersOf(path: string, made: Set<string>, disk: DiskCalls): void {
  const folder = path.slice(0, path.lastIndexOf("/"));
  if (made.has(folder)) return;
  makeFoldersOf(folder, made, disk);
  disk.makeFolder(folder);
  made.add(folder);
}

function makeFolders(folder: string, disk: DiskCalls): void {
  if (disk.kind(folder) !== null) return;
  makeFolders(dirname(folder), disk);
  try {
    disk.makeFolder(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
  }
}

async function insistOnManifest(files: ReadonlyMap<string, Uint8Array>): Promise<void> {
  const bytes = files.get(manifestPath);
  if (!bytes) throw new Error("publishFolder: the set has no manifest");
  const source = { list: async () => [...files.keys()], read: async (path: string) => files.get(path)! };
  const problems = await checkFiles(readManifest(bytes, manifestPath), source);
  if (problems[0]) throw new Error(`publishFolder: the manifest does not fit: ${problems[0].message}`);
}
