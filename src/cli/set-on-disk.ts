import { InputError } from "../errors/index.ts";
import type { FileSource } from "../plan/index.ts";
import { checkFiles, type Manifest, manifestPath, readManifest, strangers } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { diskError } from "./disk-error.ts";

/** A folder that holds, or is to hold, a set of written files; read and removed through `DiskCalls`. */
interface SetOnDisk {
  readonly isEmpty: () => boolean;
  /** Paths that stand in it without being listed in its manifest; every path when there is no manifest of
   * ours or when it is damaged. */
  readonly strangers: () => Promise<readonly string[]>;
  /** Whether it has a manifest of ours and every listed file is there as written. Strangers do not matter. */
  readonly isWhole: () => Promise<boolean>;
  /**
   * Removes it when everything in it is ours, the manifest last, so that what an interrupted removal leaves
   * can still be told to be ours. Gives false, and removes nothing, when it holds anything else.
   */
  readonly remove: () => Promise<boolean>;
}

export function setOnDisk(folder: string, disk: DiskCalls): SetOnDisk {
  const source: FileSource = {
    list: async () => walk(folder, disk).files,
    read: async (path) => {
      try {
        return disk.read(`${folder}/${path}`);
      } catch (error) {
        throw diskError(error, `${folder}/${path}`);
      }
    },
  };
  return {
    isEmpty: () => disk.names(folder).length === 0,
    strangers: async () => {
      const present = await source.list();
      const manifest = await manifestOf(source, present);
      return typeof manifest === "string" ? present : strangers(manifest, present).map((found) => found.path);
    },
    isWhole: async () => {
      const manifest = await manifestOf(source, await source.list());
      if (typeof manifest === "string") return false;
      return (await checkFiles(manifest, source)).every((problem) => problem.kind === "stranger");
    },
    remove: async () => {
      const { files, folders } = walk(folder, disk);
      const manifest = await manifestOf(source, files);
      const isOurs =
        typeof manifest !== "string"
          ? strangers(manifest, files).length === 0
          : files.length === 0 || (manifest === "begun" && files.length === 1);
      if (!isOurs) return false;
      for (const path of files) if (path !== manifestPath) disk.removeFile(`${folder}/${path}`);
      for (const path of folders.reverse()) disk.removeFolder(`${folder}/${path}`);
      if (files.includes(manifestPath)) disk.removeFile(`${folder}/${manifestPath}`);
      disk.removeFolder(folder);
      return true;
    },
  };
}

const beginning = '{\n  "format": "manifest/1",\n  "tool": "bermplan",\n';

/** `begun` when the writing of a manifest stopped half-way; `none` when there is none of ours. */
async function manifestOf(
  source: FileSource,
  present: readonly string[],
): Promise<Manifest | "begun" | "none"> {
  if (!present.includes(manifestPath)) return "none";
  const bytes = await source.read(manifestPath);
  try {
    return readManifest(bytes, manifestPath);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const text = new TextDecoder().decode(bytes);
    return text.startsWith(beginning) || beginning.startsWith(text) ? "begun" : "none";
  }
}

/** Files and folders below, sorted by code unit; a folder comes before what it holds. Links are files. */
function walk(folder: string, disk: DiskCalls): { files: string[]; folders: string[] } {
  const files: string[] = [];
  const folders: string[] = [];
  const enter = (below: string): void => {
    for (const name of disk.names(below === "" ? folder : `${folder}/${below}`)) {
      const path = below === "" ? name : `${below}/${name}`;
      if (disk.kind(`${folder}/${path}`) === "folder") {
        folders.push(path);
        enter(path);
      } else files.push(path);
    }
  };
  enter("");
  files.sort();
  return { files, folders };
}
