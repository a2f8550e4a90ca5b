import { randomBytes } from "node:crypto";
import {
  closeSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmdirSync,
  statfsSync,
  unlinkSync,
  writeSync,
} from "node:fs";

type EntryKind = "file" | "folder" | "other";

/** What is free on a disk. */
export interface DiskRoom {
  readonly freeBytes: number;
  readonly blockBytes: number;
}

/**
 * The system calls a swap is made of, one method each, so that a test can stop the world before and after
 * every one of them. They throw what the system says. All are synchronous: between two of them nothing
 * else of this process happens.
 */
export interface DiskCalls {
  /** Null when nothing is there. A link is `other` wherever it leads. */
  kind(path: string): EntryKind | null;
  /** Milliseconds since 1970 of the last change to the file itself. */
  changedMs(path: string): number;
  /** Names of what the folder holds, sorted by code unit. */
  names(folder: string): string[];
  read(path: string): Uint8Array;
  /** Makes a file that was not there (EEXIST otherwise) and leaves it open for writing. */
  create(path: string): number;
  /** Opens a file to write at its end, made when missing; what is in it can only grow. */
  openEnd(path: string): number;
  /** Writes some of the bytes and says how many. */
  write(file: number, bytes: Uint8Array): number;
  /** Waits until the file's bytes are on the disk. */
  sync(file: number): void;
  close(file: number): void;
  /** Waits until the names in the folder are on the disk, where the system can do that. */
  syncFolder(folder: string): void;
  makeFolder(folder: string): void;
  rename(from: string, to: string): void;
  removeFile(path: string): void;
  /** Only an empty folder can be removed. */
  removeFolder(folder: string): void;
  /** Bytes that this user may still write, and those of a block, which every file takes whole; null where the system tells none. */
  room(folder: string): DiskRoom | null;
  /** A mark of the process `pid` that another process with the same number would not have; null when it
   * does not run, empty when it runs and the system tells no mark. */
  processMark(pid: number): string | null;
  /** Sixteen hexadecimal digits that no earlier call gave. */
  newId(): string;
}

export const realDisk: DiskCalls = {
  kind: (path) => {
    const found = lstatSync(path, { throwIfNoEntry: false });
    if (!found) return null;
    return found.isFile() ? "file" : found.isDirectory() ? "folder" : "other";
  },
  changedMs: (path) => lstatSync(path).mtimeMs,
  names: (folder) => readdirSync(folder).sort(),
  read: (path) => new Uint8Array(readFileSync(path)),
  create: (path) => openSync(path, "wx"),
  openEnd: (path) => openSync(path, "a"),
  write: (file, bytes) => writeSync(file, bytes),
  sync: fsyncSync,
  close: closeSync,
  syncFolder: (folder) => {
    if (process.platform === "win32") return; // folders cannot be opened there
    const open = openSync(folder, "r");
    try {
      fsyncSync(open);
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code !== "EINVAL" && code !== "ENOTSUP") throw error; // some network disks cannot sync a folder
    } finally {
      closeSync(open);
    }
  },
  makeFolder: (folder) => void mkdirSync(folder),
  rename: renameSync,
  removeFile: unlinkSync,
  removeFolder: rmdirSync,
  room: (folder) => {
    try {
      const { bavail, bsize, blocks } = statfsSync(folder);
      return blocks > 0 && bsize > 0 ? { freeBytes: bavail * bsize, blockBytes: bsize } : null;
    } catch {
      return null; // some network disks tell nothing; a disk that is full says so when it is written
    }
  },
  processMark: (pid) => {
    try {
      process.kill(pid, 0);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "ESRCH") return null; // EPERM: it runs as another user
    }
    return startOf(pid);
  },
  newId: () => randomBytes(8).toString("hex"),
};

/** When the process began, in ticks since the machine started, where /proc tells it (Linux proc(5), field 22
 * of stat: from memory); a zombie counts as running. */
function startOf(pid: number): string {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "latin1");
    return stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? "";
  } catch {
    return "";
  }
}
