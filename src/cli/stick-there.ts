import { InputError } from "../errors/index.ts";
import {
  journalPath,
  manifestPath,
  othersOn,
  type Stick,
  stickAsListed,
  stickPath,
} from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { filesBelow, listedIn } from "./stick-files.ts";

/** What a stick holds of ours. */
export interface StickThere {
  /** Its stick.json, where its manifest lists it and it is as listed. */
  readonly stick: Stick | null;
  /** Whether a writing was interrupted. */
  readonly isBegun: boolean;
  /** Files that are on it, and its manifest does not list; what the system keeps there left out. */
  readonly others: readonly string[];
}

export function stickThere(root: string, disk: DiskCalls): StickThere {
  const kind = disk.kind(root);
  if (kind !== "folder") {
    const message = kind === null ? `${root} is not there` : `${root} is not a folder`;
    throw new InputError("no-such-folder", message, "Put the stick in, and give its folder.");
  }
  const listed = listedIn(`${root}/${manifestPath}`, disk);
  const json = `${root}/${stickPath}`;
  return {
    stick: stickAsListed(listed, disk.kind(json) === "file" ? disk.read(json) : null),
    isBegun: disk.kind(`${root}/${journalPath}`) !== null,
    others: othersOn(filesBelow(root, disk), listed),
  };
}
