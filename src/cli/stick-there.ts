import { InputError } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import { manifestPath, type Stick, stickPath } from "../publish/index.ts";
import type { DiskCalls } from "./disk-calls.ts";
import { filesBelow, journalPath, listedIn } from "./stick-files.ts";

/** What a stick holds of ours. */
export interface StickThere {
  /** Its stick.json, where its manifest lists it and it is as listed. */
  readonly stick: Stick | null;
  /** Whether a writing was interrupted. */
  readonly isBegun: boolean;
  /** Files that are on it, and its manifest does not list; what the system keeps there left out. */
  readonly others: readonly string[];
}

const OWN = new Set([manifestPath, journalPath, `${journalPath}er`, "stick.lock"]);

export function stickThere(root: string, disk: DiskCalls): StickThere {
  const kind = disk.kind(root);
  if (kind !== "folder") {
    const message = kind === null ? `${root} is not there` : `${root} is not a folder`;
    throw new InputError("no-such-folder", message, "Put the stick in, and give its folder.");
  }
  const listed = listedIn(`${root}/${manifestPath}`, disk);
  const others = filesBelow(root, disk).filter(
    (path) =>
      !listed.has(path) &&
      !OWN.has(path) &&
      !/^(System Volume Information|\.Trash[^/]*|\.[^/]+)(\/|$)/.test(path),
  );
  return {
    stick: stickOn(root, listed, disk),
    isBegun: disk.kind(`${root}/${journalPath}`) !== null,
    others,
  };
}

function stickOn(root: string, listed: ReadonlyMap<string, string>, disk: DiskCalls): Stick | null {
  const meant = listed.get(stickPath);
  if (meant === undefined || disk.kind(`${root}/${stickPath}`) !== "file") return null;
  const bytes = disk.read(`${root}/${stickPath}`);
  return sha256Hex(bytes) === meant ? (JSON.parse(new TextDecoder().decode(bytes)) as Stick) : null;
}

/** Older maps of the build's fields on a stick: files whose name was given to a map once and is not listed now. */
export function olderMaps(
  others: readonly string[],
  names: Readonly<Record<string, string>>,
  stems: readonly string[],
): string[] {
  const isOld = (name: string): boolean =>
    names[name] !== undefined || stems.some((stem) => new RegExp(`^${stem}[FK]?(_[A-Z]{1,2})?$`).test(name));
  return others.filter((path) => {
    const [, name, ending] = /([^/]+)\.([^./]+)$/.exec(path) ?? [];
    return name !== undefined && /^(shp|geojson)$/i.test(ending!) && isOld(name);
  });
}
