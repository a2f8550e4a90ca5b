import { readdir, readFile, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { InputError } from "../errors/index.ts";
import { shapefileStem } from "../formats/index.ts";
import { folderSource } from "./disk.ts";
import { diskError } from "./disk-error.ts";

interface GatheredInput {
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
    const files = new Map<string, Uint8Array>();
    for (const path of await withShapefileParts(operand))
      files.set(basename(path), new Uint8Array(await readFile(path)));
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

/** A .shp with the other parts that lie beside it, by path; any other file alone. Throws what the disk refuses. */
export async function withShapefileParts(path: string): Promise<string[]> {
  if (!/\.shp$/i.test(path)) return [path];
  try {
    const stem = shapefileStem(basename(path));
    const names = await readdir(dirname(path));
    const beside = names.filter((name) => name !== basename(path) && shapefileStem(name) === stem).sort();
    return [path, ...beside.map((name) => join(dirname(path), name))];
  } catch (error) {
    throw diskError(error, path);
  }
}
