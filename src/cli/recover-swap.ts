import type { Notice } from "../errors/index.ts";
import { type DiskCalls, realDisk } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";
import { asideOf, takeLock } from "./folder-lock.ts";
import { setOnDisk } from "./set-on-disk.ts";
import { leftovers, type SwapPlace, swapPlace } from "./swap-place.ts";

/**
 * Finishes or undoes what an interrupted run left of the folder's swap. Every command that looks at a
 * written folder calls it first. Does nothing, and writes nothing, when nothing is left over.
 * Gives a notice for each thing it had to leave. Throws `folder-busy` while another process is at it.
 */
export async function recoverSwap(folder: string, disk: DiskCalls = realDisk): Promise<readonly Notice[]> {
  try {
    const place = swapPlace(folder);
    if (place === null) return [];
    const left = leftovers(place, disk);
    if (!left.hasLock && [left.news, left.olds, left.locksAside].every((ids) => ids.length === 0)) return [];
    const lock = takeLock(place.lock, place.shown, disk);
    try {
      return await settleSwap(place, disk);
    } finally {
      lock.release();
    }
  } catch (error) {
    throw diskError(error, folder);
  }
}

/**
 * The same with the lock in hand. A swap is: the new set is written whole as `.new-ID`; the folder becomes
 * `.old-ID`; `.new-ID` becomes the folder; `.old-ID` is removed. So
 * - the folder is missing and both names of one ID are there: stopped between the renames, finish;
 * - the folder is missing and only an old one is there: give it its name back;
 * - the folder is there: what is called new was never published, what is called old was replaced.
 * An old set is removed only while the folder itself is whole; of several the newest gets its name back.
 */
export async function settleSwap(place: SwapPlace, disk: DiskCalls): Promise<readonly Notice[]> {
  if (disk.kind(place.target) === null) await putBack(place, disk);
  const left = leftovers(place, disk);
  if (left.olds.length > 0 && disk.kind(place.target) === null) {
    return left.olds.map((id) => kept(place.oldOf(id))); // nothing can be put back now, so nothing is removed
  }
  const notices: Notice[] = [];
  for (const id of left.news) notices.push(...(await clear(place.newOf(id), disk)));
  const mayClearOld = left.olds.length > 0 && (await isWholeFolder(place.target, disk));
  for (const id of left.olds) {
    const old = place.oldOf(id);
    notices.push(...(mayClearOld ? await clear(old, disk) : [kept(old)]));
  }
  for (const id of left.locksAside) disk.removeFile(asideOf(place.lock, id));
  return notices;
}

/** Gives the folder's name to the best of what is left; when the disk refuses one, to the next. */
async function putBack(place: SwapPlace, disk: DiskCalls): Promise<void> {
  const { news, olds } = leftovers(place, disk);
  const candidates: { from: string; isNew: boolean; ms: number }[] = [];
  for (const id of olds) {
    const [fresh, old] = [place.newOf(id), place.oldOf(id)];
    if (news.includes(id) && (await isWholeFolder(fresh, disk))) {
      candidates.push({ from: fresh, isNew: true, ms: disk.changedMs(fresh) });
    }
    if ((await isWholeFolder(old, disk)) || isEmptyFolder(old, disk)) {
      candidates.push({ from: old, isNew: false, ms: disk.changedMs(old) });
    }
  }
  candidates.sort((a, b) => Number(b.isNew) - Number(a.isNew) || b.ms - a.ms);
  for (const { from } of candidates) {
    if (!renames(from, place.target, disk)) continue;
    disk.syncFolder(place.parent);
    return;
  }
}

function renames(from: string, to: string, disk: DiskCalls): boolean {
  try {
    disk.rename(from, to);
    return true;
  } catch (error) {
    if (diskError(error, from) === error) throw error;
    return false;
  }
}

async function isWholeFolder(path: string, disk: DiskCalls): Promise<boolean> {
  return disk.kind(path) === "folder" && (await setOnDisk(path, disk).isWhole());
}

function isEmptyFolder(path: string, disk: DiskCalls): boolean {
  return disk.kind(path) === "folder" && setOnDisk(path, disk).isEmpty();
}

/** Removes a leftover; what cannot or may not be removed stays and is told. */
async function clear(path: string, disk: DiskCalls): Promise<Notice[]> {
  try {
    if (disk.kind(path) === "folder" && (await setOnDisk(path, disk).remove())) return [];
    return [kept(path)];
  } catch (error) {
    if (diskError(error, path) === error) throw error;
    return [kept(path)];
  }
}

function kept(path: string): Notice {
  const message = `${path} was left by an interrupted run and is kept, since it holds files that stand nowhere else or cannot be removed; look at it and remove it yourself`;
  return { code: "leftover-kept", message, where: path };
}
