import type { DiskCalls } from "./disk-calls.ts";

/** Bytes to a file that was not there, synced. */
export function writeNew(path: string, bytes: Uint8Array, disk: DiskCalls): void {
  const file = disk.create(path);
  try {
    writeThrough(file, bytes, disk);
  } finally {
    disk.close(file);
  }
}

/** All bytes to an open file, and on to the disk. */
export function writeThrough(file: number, bytes: Uint8Array, disk: DiskCalls): void {
  for (let at = 0; at < bytes.length; ) at += disk.write(file, bytes.subarray(at));
  disk.sync(file);
}

/**
 * A file replaced by way of a new one beside it, so that it is always the old or the new; what could not be written whole is
 * taken away again.
 */
export function replaceFile(path: string, bytes: Uint8Array, disk: DiskCalls): void {
  const fresh = `${path}.new`;
  if (disk.kind(fresh) !== null) disk.removeFile(fresh);
  try {
    writeNew(fresh, bytes, disk);
    disk.rename(fresh, path);
  } catch (error) {
    if (disk.kind(fresh) !== null) disk.removeFile(fresh);
    throw error;
  }
}
