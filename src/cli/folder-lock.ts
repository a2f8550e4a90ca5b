import { hostname } from "node:os";
import { InputError } from "../errors/index.ts";
import type { DiskCalls } from "./disk-calls.ts";

/** One process's right to change a folder and what stands beside it. */
interface FolderLock {
  /** Throws `folder-busy` when another process has taken the lock meanwhile; asked before the step that counts. */
  confirm(): void;
  release(): void;
}

interface Holder {
  readonly pid: number;
  readonly mark: string;
  readonly host: string;
  readonly id: string;
}

/** How long a lock may stay without readable content before its maker counts as dead, in milliseconds. */
const tornAfterMs = 2000;
const head = '{"lock":"bermplan",';

/**
 * Takes the lock file at `path`, which names its holder; `shown` is what it keeps others from writing, as messages name it. The lock of a process that no longer runs is taken
 * over: it is moved aside under a name of its own, looked at once more, and only then removed, so that of
 * two processes that both found it only one gets on.
 * Throws `folder-busy` when a living process holds it, `lock-in-the-way` when the file is not a lock of ours.
 */
export function takeLock(path: string, shown: string, disk: DiskCalls): FolderLock {
  const own: Holder = {
    pid: process.pid,
    mark: disk.processMark(process.pid) ?? "",
    host: hostname(),
    id: disk.newId(),
  };
  for (let attempt = 0; attempt < 5; attempt++) {
    if (make(path, own, disk)) return heldLock(path, shown, own, disk);
    const found = look(path, disk);
    if (found === null) continue; // released in the meantime
    if (found === "torn" && Date.now() - disk.changedMs(path) < tornAfterMs) throw busy(path, shown, null);
    if (found !== "torn" && isAlive(found, disk)) throw busy(path, shown, found);
    moveAside(path, shown, found, disk);
  }
  throw busy(path, shown, null);
}

/** The name of a lock moved aside; one that is left over can be removed at any time. */
export const asideOf = (path: string, id: string): string => `${path}-${id}`;

function heldLock(path: string, shown: string, own: Holder, disk: DiskCalls): FolderLock {
  const isOurs = (): boolean => {
    const found = look(path, disk);
    return found !== null && found !== "torn" && found.id === own.id;
  };
  return {
    confirm(): void {
      if (!isOurs()) throw busy(path, shown, null);
    },
    release(): void {
      if (isOurs()) disk.removeFile(path);
    },
  };
}

function make(path: string, own: Holder, disk: DiskCalls): boolean {
  let file: number;
  try {
    file = disk.create(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw error;
  }
  try {
    const bytes = new TextEncoder().encode(`${head}${JSON.stringify(own).slice(1)}\n`);
    if (disk.write(file, bytes) !== bytes.length)
      throw Object.assign(new Error("short write"), { code: "ENOSPC" });
  } catch (error) {
    disk.close(file);
    disk.removeFile(path);
    throw error;
  }
  disk.close(file);
  return true;
}

/** Null when there is no lock, `torn` when its maker died while writing it. */
function look(path: string, disk: DiskCalls): Holder | "torn" | null {
  let text: string;
  try {
    text = new TextDecoder().decode(disk.read(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
  if (!text.startsWith(head) && !head.startsWith(text)) {
    const remedy = `Move ${path} away; its name is needed for a lock while a set is written.`;
    throw new InputError("lock-in-the-way", `${path} is a file of somebody else`, remedy);
  }
  try {
    const { pid, mark, host, id } = JSON.parse(text) as Holder;
    return { pid, mark, host, id };
  } catch {
    return "torn";
  }
}

function isAlive(holder: Holder, disk: DiskCalls): boolean {
  if (holder.host !== hostname()) return true; // nobody can tell from here
  const mark = disk.processMark(holder.pid);
  return mark !== null && (mark === "" || holder.mark === "" || mark === holder.mark);
}

function moveAside(path: string, shown: string, dead: Holder | "torn", disk: DiskCalls): void {
  const aside = asideOf(path, disk.newId());
  try {
    disk.rename(path, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return; // another process was faster
    throw error;
  }
  const moved = look(aside, disk);
  const same =
    moved === dead || (moved !== null && moved !== "torn" && dead !== "torn" && moved.id === dead.id);
  if (moved !== null && !same) {
    if (disk.kind(path) === null) disk.rename(aside, path); // a living lock was caught: put it back
    throw busy(path, shown, moved === "torn" ? null : moved);
  }
  if (moved !== null) disk.removeFile(aside);
}

function busy(path: string, shown: string, holder: Holder | null): InputError {
  const who = holder ? `process ${holder.pid} on ${holder.host}` : "another process";
  return new InputError(
    "folder-busy",
    `${shown} is being written by ${who}`,
    `Wait until it is done and try again; if nothing is running, remove ${path}.`,
  );
}
