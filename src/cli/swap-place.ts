import { realpathSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { InputError } from "../errors/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { setOnDisk } from "./set-on-disk.ts";

/** Where a set goes, and the names that stand beside it while it is swapped in. */
export interface SwapPlace {
  /** As the user wrote it, for messages. */
  readonly shown: string;
  readonly parent: string;
  /** The folder itself, links resolved. */
  readonly target: string;
  readonly lock: string;
  readonly newOf: (id: string) => string;
  readonly oldOf: (id: string) => string;
}

/** Resolves links of the folder, or of its parent when the folder is not there yet. Null when neither is. */
export function swapPlace(folder: string): SwapPlace | null {
  const plain = resolve(folder);
  const target = realOf(plain) ?? underRealParent(plain);
  if (target === null) return null;
  return {
    shown: folder,
    parent: dirname(target),
    target,
    lock: `${target}.lock`,
    newOf: (id) => `${target}.new-${id}`,
    oldOf: (id) => `${target}.old-${id}`,
  };
}

/** What an interrupted swap may have left beside the folder; ids sorted. */
interface Leftovers {
  readonly news: readonly string[];
  readonly olds: readonly string[];
  readonly locksAside: readonly string[];
  readonly hasLock: boolean;
}

export function leftovers(place: SwapPlace, disk: DiskCalls): Leftovers {
  const base = basename(place.target);
  const found = { news: [] as string[], olds: [] as string[], locksAside: [] as string[], hasLock: false };
  for (const name of disk.names(place.parent)) {
    if (!name.startsWith(base)) continue;
    const [, kind, id] = /^\.(new-|old-|lock-|lock$)([0-9a-f]{16})?$/.exec(name.slice(base.length)) ?? [];
    if (kind === "lock") found.hasLock = true;
    else if (id === undefined) continue;
    else if (kind === "new-") found.news.push(id);
    else if (kind === "old-") found.olds.push(id);
    else found.locksAside.push(id);
  }
  return found;
}

/**
 * Throws unless a set may be written to the folder: it is not there, or empty, or `overwrite` is wanted and
 * everything in it was written by us and is listed in its manifest.
 * Codes: `out-not-a-folder`, `out-is-current-folder`, `out-not-empty`, `out-has-strangers`.
 */
export async function refuseOccupied(place: SwapPlace, overwrite: boolean, disk: DiskCalls): Promise<void> {
  const { target, shown } = place;
  const kind = disk.kind(target);
  if (relative(target, process.cwd()).split(sep)[0] !== ".." && kind !== null) {
    const message = `${shown} is the current folder or holds it, so it cannot be replaced`;
    throw new InputError("out-is-current-folder", message, "Go to another folder or give another name.");
  }
  if (kind === null) return;
  if (kind !== "folder") {
    throw new InputError("out-not-a-folder", `${shown} is there and is not a folder`, "Give another name.");
  }
  const there = setOnDisk(target, disk);
  if (there.isEmpty()) return;
  if (!overwrite) {
    const remedy = "Give another folder, or --overwrite when an earlier run wrote it.";
    throw new InputError("out-not-empty", `${shown} is there and not empty`, remedy);
  }
  const found = await there.strangers();
  if (found.length === 0) return;
  const shownFew = found.slice(0, 5).join(", ");
  const more = found.length > 5 ? ` and ${found.length - 5} more` : "";
  throw new InputError(
    "out-has-strangers",
    `${shown} holds files no run of this tool wrote, or whose manifest.json is missing or damaged: ${shownFew}${more}`,
    "Move that elsewhere, or give another folder; nothing was changed.",
  );
}

function realOf(path: string): string | null {
  try {
    return realpathSync(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}

function underRealParent(plain: string): string | null {
  const parent = realOf(dirname(plain));
  return parent === null ? null : join(parent, basename(plain));
}
