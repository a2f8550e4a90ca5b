import {
  type Answers,
  InputError,
  isKindRead,
  lastOfPath,
  packShapefiles,
  readInput,
  readZip,
  sameBytes,
} from "#core";
import type { NamedFile } from "./drawn-types.ts";

/**
 * Files as they are worked with: a zipped folder opened up, the parts of a shapefile together as one zip. Of several with
 * one name the later ones get a number, unless they hold the same.
 */
export function sortedOut(files: readonly NamedFile[]): NamedFile[] {
  const names = new Map<string, number>();
  const apart = files.flatMap(unpacked).map(([path, bytes]): NamedFile => {
    const count = (names.get(path) ?? 0) + 1;
    names.set(path, count);
    return [count === 1 ? path : numbered(path, count), bytes];
  });
  const packed = packShapefiles(apart).map(([path, bytes]): NamedFile => [path, Uint8Array.from(bytes)]);
  return packed.filter(
    ([path, bytes], i) =>
      !packed.slice(0, i).some(([first, same]) => wasCalled(path, first) && sameBytes(bytes, same)),
  );
}

/** What is said of a loose .shp inside the zip it was packed in, said of the .shp: nobody dropped that zip. */
export function saidOfLoose(message: string, given: readonly NamedFile[]): string {
  return given.reduce((said, [path]) => {
    const zip = zipOf(path);
    if (zip === path || given.some(([other]) => other === zip)) return said;
    return said.replaceAll(`${zip}: ${lastOfPath(path)}`, path);
  }, message);
}

/** The .shp that was dropped where files were packed under this name; the name itself where none was. */
export const looseOf = (name: string, given: readonly NamedFile[]): string =>
  given.some(([path]) => path === name) ? name : (given.find(([path]) => zipOf(path) === name)?.[0] ?? name);

const zipOf = (path: string): string => path.replace(/\.shp$/i, ".zip");

/** `results.csv` with a number: `results-2.csv`. */
export const numbered = (path: string, number: number): string =>
  path.replace(/(\.[^./]*)?$/, `-${number}$1`);

/** Whether a file was called `given`, with or without a number now. */
export const wasCalled = (path: string, given: string): boolean =>
  path === given || path.replace(/-[1-9]\d?(?=(\.[^./]*)?$)/, "") === given;

/** Files that can be read, and beside them pictures, workbooks and whatever else lay in the folder. */
export function readAndOther(files: readonly NamedFile[]): {
  readonly read: readonly NamedFile[];
  readonly other: readonly NamedFile[];
} {
  const isRead = ([path, bytes]: NamedFile) => isKindRead(path, bytes);
  return { read: files.filter(isRead), other: files.filter((file) => !isRead(file)) };
}

/** What is said of a file of which nothing can be made: no role fits it; empty where one does, or it cannot be read. */
export function saidUnfit([path, bytes]: NamedFile, answers: Answers): string {
  try {
    const { notices } = readInput(path, new Map([[path, bytes]]), { answers });
    return notices.find(({ code }) => code === "no-role-fits")?.message ?? "";
  } catch (error) {
    if (error instanceof InputError) return "";
    throw error;
  }
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
