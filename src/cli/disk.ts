import { lstat, readdir, readFile, realpath, stat } from "node:fs/promises";
import { isAbsolute, join, relative, sep } from "node:path";
import { InputError } from "../errors/index.ts";
import type { FileSource } from "../plan/index.ts";
import { diskError } from "./disk-error.ts";

/**
 * A folder as a source of files. Whatever is listed is a file or a link; a link is followed only when it
 * leads to a file inside the same folder, and links to folders are never entered.
 * Throws `no-such-file`, `not-a-folder`; its `read` throws `outside-folder`, `not-a-file` and what the
 * system refuses.
 */
export async function folderSource(folder: string): Promise<FileSource> {
  const root = await asking(folder, () => realpath(folder));
  if (!(await stat(root)).isDirectory()) throw diskError({ code: "ENOTDIR" }, folder);
  return {
    list: async () => (await listBelow(root, "", folder)).sort(),
    read: async (path) => {
      const shown = `${folder}/${path}`;
      if (!staysInside(path)) throw outside(shown);
      const real = await asking(shown, () => realpath(join(root, ...path.split("/"))));
      const fromRoot = relative(root, real);
      if (fromRoot.split(sep)[0] === ".." || isAbsolute(fromRoot)) throw outside(shown);
      const kind = await asking(shown, () => lstat(real));
      if (!kind.isFile()) {
        throw new InputError(
          "not-a-file",
          `${shown} is not a file that can be read`,
          "Put the file itself there.",
        );
      }
      return asking(shown, async () => new Uint8Array(await readFile(real)));
    },
  };
}

/** Whether a path is relative, with forward slashes, and free of `.`, `..` and empty parts. */
function staysInside(path: string): boolean {
  return (
    !/[\\\0]|^[A-Za-z]:/.test(path) &&
    path.split("/").every((part) => part !== "" && part !== "." && part !== "..")
  );
}

async function listBelow(root: string, below: string, shown: string): Promise<string[]> {
  const entries = await asking(`${shown}/${below}`, () =>
    readdir(join(root, below), { withFileTypes: true }),
  );
  const found: string[] = [];
  for (const entry of entries) {
    const path = below === "" ? entry.name : `${below}/${entry.name}`;
    if (entry.isDirectory()) found.push(...(await listBelow(root, path, shown)));
    else found.push(path);
  }
  return found;
}

async function asking<T>(shown: string, question: () => Promise<T>): Promise<T> {
  try {
    return await question();
  } catch (error) {
    throw diskError(error, shown);
  }
}

function outside(shown: string): InputError {
  const remedy = "Put the file itself into the folder.";
  return new InputError("outside-folder", `${shown} leads out of its folder and is not read`, remedy);
}
