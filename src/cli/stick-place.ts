import { InputError } from "../errors/index.ts";
import type { StickPlace } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { filesBelow } from "./stick-files.ts";

/** A folder of the disk as a stick. Throws `no-such-folder`. */
export function stickPlace(root: string, disk: DiskCalls): StickPlace {
  const kind = disk.kind(root);
  if (kind !== "folder") {
    const message = kind === null ? `${root} is not there` : `${root} is not a folder`;
    throw new InputError("no-such-folder", message, "Put the stick in, and give its folder.");
  }
  return {
    name: root,
    files: async () => filesBelow(root, disk),
    names: async () => disk.names(root),
    read: async (path) => {
      const there = disk.kind(`${root}/${path}`);
      if (there === null) return null;
      return there === "file" ? disk.read(`${root}/${path}`) : "other";
    },
  };
}
