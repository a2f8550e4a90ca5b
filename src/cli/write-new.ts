import type { DiskCalls } from "./disk-calls.ts";

/** Bytes to a file that was not there, synced. */
export function writeNew(path: string, bytes: Uint8Array, disk: DiskCalls): void {
  const file = disk.create(path);
  try {
    for (let at = 0; at < bytes.length; ) at += disk.write(file, bytes.subarray(at));
    disk.sync(file);
  } finally {
    disk.close(file);
  }
}
