import { InputError } from "../errors/index.ts";
import { filesListed, manifestPath, sameBytes } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";

/** What the stick already holds of a file to be written. */
type Standing = "missing" | "same" | "ours" | "stranger";

/** Makes the folders above a file, below `root`. Throws `file-in-the-way`, and what the disk refuses. */
export function makeFoldersAbove(root: string, path: string, disk: DiskCalls): void {
  const parts = path.split("/").slice(0, -1);
  parts.forEach((_, k) => {
    const folder = `${root}/${parts.slice(0, k + 1).join("/")}`;
    const kind = disk.kind(folder);
    if (kind === null) disk.makeFolder(folder);
    else if (kind !== "folder") {
      throw new InputError("file-in-the-way", `${folder} is there and is not a folder`, "Move it elsewhere.");
    }
  });
}

/** Paths with their hashes as a manifest or a journal of ours lists them; none where there is none of ours. */
export const listedIn = (path: string, disk: DiskCalls): ReadonlyMap<string, string> =>
  filesListed(disk.kind(path) === "file" ? disk.read(path) : null, path);

/** How a file to be written stands on the stick; what no manifest or journal of ours lists is a stranger. */
export function standingOf(
  root: string,
  path: string,
  bytes: Uint8Array,
  ours: ReadonlySet<string>,
  disk: DiskCalls,
): Standing {
  const kind = disk.kind(`${root}/${path}`);
  if (kind === null) return "missing";
  if (kind === "file" && sameBytes(disk.read(`${root}/${path}`), bytes)) return "same";
  return kind === "file" && (ours.has(path) || path === manifestPath) ? "ours" : "stranger";
}

/** Every file below, by path; folders that cannot be entered are left out. Sorted by code unit. Throws what else the disk refuses. */
export function filesBelow(root: string, disk: DiskCalls, below = ""): string[] {
  let names: string[];
  try {
    names = disk.names(below === "" ? root : `${root}/${below}`);
  } catch (error) {
    if (["EACCES", "EPERM"].includes((error as NodeJS.ErrnoException).code ?? "")) return [];
    throw error;
  }
  return names.flatMap((name) => {
    const path = below === "" ? name : `${below}/${name}`;
    return disk.kind(`${root}/${path}`) === "folder" ? filesBelow(root, disk, path) : [path];
  });
}
