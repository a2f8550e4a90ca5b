import { InputError } from "../errors/index.ts";
import { journalPath, manifestPath, sameBytes } from "../publish/index.ts";
import { numberText } from "../units/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { listedIn } from "./stick-files.ts";
import type { StickWriting } from "./write-stick.ts";

/**
 * Bytes that writing a set takes at its height, in whole blocks, in the order in which `writeStick` takes and frees them: what is there
 * with the same bytes stays, what is there with others makes room for its successor.
 */
export function stickRoom(
  root: string,
  { files, aside }: Pick<StickWriting, "files" | "aside">,
  blockBytes: number,
  disk: DiskCalls,
): number {
  const onDisk = (bytes: number): number => blockBytes * Math.ceil(bytes / blockBytes);
  // What is moved out of the way is not there any more when its successors are written.
  const isMoved = (path: string): boolean => aside !== null && path.startsWith(`${aside.from}/`);
  const there = (path: string): Uint8Array | null =>
    !isMoved(path) && disk.kind(`${root}/${path}`) === "file" ? disk.read(`${root}/${path}`) : null;
  let taken = 0;
  let most = 0;
  const take = (bytes: number): void => {
    taken += onDisk(bytes);
    most = Math.max(most, taken);
  };
  const free = (path: string): void => {
    taken -= onDisk(there(path)?.length ?? 0);
  };
  take(files.get(manifestPath)!.length);
  const stays = listedIn(`${root}/${manifestPath}`, disk);
  for (const path of listedIn(`${root}/${journalPath}`, disk).keys()) {
    if (!stays.has(path) && !files.has(path) && !path.startsWith("TASKDATA/")) free(path);
  }
  free(journalPath);
  const folders = new Set<string>();
  for (const [path, bytes] of files) {
    if (path === manifestPath) continue;
    for (let at = path.indexOf("/"); at >= 0; at = path.indexOf("/", at + 1)) {
      const folder = path.slice(0, at);
      if (folders.has(folder)) continue;
      folders.add(folder);
      if (isMoved(`${folder}/`) || disk.kind(`${root}/${folder}`) === null) take(1);
    }
    const before = there(path);
    if (before !== null && sameBytes(before, bytes)) continue;
    free(path);
    take(bytes.length);
  }
  return most;
}

/**
 * Refuses before anything is written where the set does not fit; `isFull` where the disk has said so. A disk that does not tell what is
 * free is tried. Throws `disk-full`.
 */
export function refuseWithoutRoom(
  root: string,
  writing: Pick<StickWriting, "files" | "aside">,
  isFull: boolean,
  disk: DiskCalls,
): void {
  const told = disk.room(root);
  const room = isFull ? { freeBytes: 0, blockBytes: told?.blockBytes ?? 4096 } : told;
  if (room === null) return;
  const needed = stickRoom(root, writing, room.blockBytes, disk);
  if (needed <= room.freeBytes) return;
  const kB = (bytes: number): string => numberText(Math.ceil(bytes / 1000), 0);
  throw new InputError(
    "disk-full",
    `${root} has too little room: this set needs ${kB(needed)} kB, ${kB(room.freeBytes)} kB are free`,
    "Make room, or use another stick; nothing was written.",
  );
}
