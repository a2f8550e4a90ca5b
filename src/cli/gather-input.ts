import { readdir, readFile, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { InputError } from "../errors/index.ts";
import { folderSource } from "./disk.ts";
import { diskError } from "./disk-error.ts";

export interface GatheredInput {
  /** As messages name it. */
  readonly name: string;
  /** Path inside the folder, or the file's own name, -> bytes. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

const MOST_FILES = 2_000;
const MOST_BYTES = 1024 * 2 ** 20;

/**
 * The bytes an operand names: a file, every file of a folder, or `-` for standard input. A .shp brings the files of its
 * name with it, a TASKDATA.XML the folder it lies in. Throws `folder-too-big` and what the disk refuses.
 */
export async function gatherInput(
  operand: string,
  readStandardInput: () => Promise<Uint8Array>,
): Promise<GatheredInput> {
  if (operand === "-") return { name: "standard input", files: new Map([["-", await readStandardInput()]]) };
  try {
    if ((await stat(operand)).isDirectory()) return await folderFiles(operand);
    const file = basename(operand);
    if (/^taskdata\.xml$/i.test(file)) return await folderFiles(dirname(operand));
    const names = /\.shp$/i.test(file) ? await besides(operand) : [file];
    const files = new Map<string, Uint8Array>();
    for (const name of names) files.set(name, new Uint8Array(await readFile(join(dirname(operand), name))));
    return { name: file, files };
  } catch (error) {
    throw diskError(error, operand);
  }
}

async function folderFiles(folder: string): Promise<GatheredInput> {
  const source = await folderSource(folder);
  const paths = await source.list();
  if (paths.length > MOST_FILES) throw tooBig(folder, `${paths.length} files`);
  const files = new Map<string, Uint8Array>();
  let bytes = 0;
  for (const path of paths) {
    const read = await source.read(path);
    bytes += read.length;
    if (bytes > MOST_BYTES) throw tooBig(folder, "more than 1 GiB");
    files.set(path, read);
  }
  return { name: basename(folder), files };
}

function tooBig(folder: string, what: string): InputError {
  return new InputError(
    "folder-too-big",
    `${folder} holds ${what}`,
    "Name the file itself, or a smaller folder.",
  );
}

/** The files beside a .shp that share its name. */
async function besides(shp: string): Promise<string[]> {
  const stem = basename(shp).slice(0, -3).toLowerCase();
  const names = await readdir(dirname(shp));
  return names.filter((name) => name.toLowerCase().startsWith(stem) && !/\.xml$/i.test(name)).sort();
}
