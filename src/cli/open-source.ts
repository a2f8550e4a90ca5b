import { readFile, stat } from "node:fs/promises";
import { basename } from "node:path";
import { InputError, type Notice } from "../errors/index.ts";
import { readZip } from "../formats/index.ts";
import type { FileSource } from "../plan/index.ts";
import { folderSource } from "./disk.ts";
import { diskError } from "./disk-error.ts";

export interface OpenedSource extends FileSource {
  /** What was left out and why. */
  readonly notices: readonly Notice[];
}

/**
 * What an operand names: a folder, a zip archive, or `-` for a zip archive on standard input.
 * Throws `not-a-source` for any other file, and what the disk and the archive refuse.
 */
export async function openSource(
  operand: string,
  readStandardInput: () => Promise<Uint8Array>,
): Promise<OpenedSource> {
  if (operand === "-") return zipSource(await readStandardInput(), "standard input");
  try {
    if ((await stat(operand)).isDirectory()) return { ...(await folderSource(operand)), notices: [] };
    return zipSource(new Uint8Array(await readFile(operand)), basename(operand));
  } catch (error) {
    throw diskError(error, operand);
  }
}

/** A zip archive as a source of files; an archive inside it is a file like any other. `name` is for messages. */
function zipSource(bytes: Uint8Array, name: string): OpenedSource {
  if (bytes[0] !== 0x50 || bytes[1] !== 0x4b) {
    throw new InputError(
      "not-a-source",
      `${name} is neither a folder nor a zip archive`,
      "Give the folder, or zip it.",
    );
  }
  const { files, notices } = readZip(bytes, name, { nested: "keep", maxEntries: 20_000 });
  const paths = [...files.keys()].sort();
  return {
    notices,
    list: async () => [...paths],
    read: async (path) => {
      const found = files.get(path);
      if (found) return found;
      throw new InputError(
        "no-such-file",
        `${name} holds no ${path}`,
        `It holds: ${paths.slice(0, 10).join(", ")}.`,
      );
    },
  };
}
