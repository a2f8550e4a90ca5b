import { InputError, isKindRead, packShapefiles, readZip } from "#core";
import type { NamedFile } from "./drawn-types.ts";

/** Files as they are worked with: a zipped folder opened up, the parts of a shapefile together as one zip. */
export const sortedOut = (files: readonly NamedFile[]): NamedFile[] =>
  packShapefiles(files.flatMap(unpacked)).map(([path, bytes]): NamedFile => [path, Uint8Array.from(bytes)]);

/** Files that can be read, and beside them pictures, workbooks and whatever else lay in the folder. */
export function readAndOther(files: readonly NamedFile[]): {
  readonly read: readonly NamedFile[];
  readonly other: readonly NamedFile[];
} {
  const isRead = ([path, bytes]: NamedFile) => isKindRead(path, bytes);
  return { read: files.filter(isRead), other: files.filter((file) => !isRead(file)) };
}

/** A zip that holds a folder of files is opened up; one that is a shapefile stays a file. */
function unpacked([path, bytes]: NamedFile): NamedFile[] {
  if (!/\.zip$/i.test(path)) return [[path, bytes]];
  let inside: ReadonlyMap<string, Uint8Array>;
  try {
    inside = readZip(bytes, path, { nested: "keep" }).files;
  } catch (error) {
    if (error instanceof InputError) return [[path, bytes]];
    throw error;
  }
  const isFolder = [...inside.keys()].some((name) => /(^|\/)plan\.json$|\.(csv|geojson|zip)$/i.test(name));
  if (!isFolder) return [[path, bytes]];
  return [...inside].map(([name, content]) => [name, Uint8Array.from(content)]);
}
