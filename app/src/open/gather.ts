import { fileStem, firstOf } from "#core";
import type { NamedFile } from "../engine/protocol.ts";

/** Files read from where they lie, and what to call them together. */
export interface Gathered {
  readonly name: string;
  readonly files: readonly NamedFile[];
}

/** Every file of a drop, those in dropped folders by their path in the folder. */
export async function gatherDrop(data: DataTransfer): Promise<Gathered> {
  const entries = [...data.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const folder = entries.length === 1 && entries[0]!.isDirectory ? entries[0]!.name : null;
  const found: (readonly [string, File])[] = [];
  if (entries.length > 0) for (const entry of entries) await walk(entry, "", found);
  else for (const file of data.files) found.push([file.name, file]);
  const prefix = folder === null ? "" : `${folder}/`;
  const files = await readAll(found.map(([path, file]) => [path.slice(prefix.length), file] as const));
  return { name: folder ?? nameOf(files), files };
}

export async function gatherFiles(list: FileList): Promise<Gathered> {
  const files = await readAll([...list].map((file) => [file.webkitRelativePath || file.name, file] as const));
  return { name: nameOf(files), files };
}

/** The files of a product's log, named by all of them: those chosen at once are one log. */
export async function gatherLog(list: FileList): Promise<Gathered> {
  const { files } = await gatherFiles(list);
  const names = files.map(([path]) => fileStem(path));
  const taskData = names.find((name) => /^taskdata$/i.test(name));
  return { name: taskData ?? firstOf([...new Set(names)]).join(", "), files };
}

const nameOf = (files: readonly NamedFile[]): string =>
  files.length === 1 ? files[0]![0].replace(/\.[^.]*$/, "") : "Plan";

async function readAll(found: readonly (readonly [string, File])[]): Promise<NamedFile[]> {
  const files = await Promise.all(
    found
      .filter(([path]) => !/(^|\/)\./.test(path))
      .map(async ([path, file]): Promise<NamedFile> => [path, new Uint8Array(await file.arrayBuffer())]),
  );
  return files.sort(([a], [b]) => (a < b ? -1 : 1));
}

async function walk(entry: FileSystemEntry, at: string, found: (readonly [string, File])[]): Promise<void> {
  const path = `${at}${entry.name}`;
  if (entry.isFile) {
    const file = await new Promise<File>((resolve, reject) =>
      (entry as FileSystemFileEntry).file(resolve, reject),
    );
    found.push([path, file]);
    return;
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (some.length === 0) return;
    for (const inner of some) await walk(inner, `${path}/`, found);
  }
}
