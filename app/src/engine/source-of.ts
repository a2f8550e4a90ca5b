import { type FileSource, InputError } from "#core";

/** One object for one set of files: the engine keeps what it read from it. */
export function sourceOf(files: ReadonlyMap<string, Uint8Array>): FileSource {
  return {
    list: async () => [...files.keys()].sort(),
    read: async (path) => {
      const bytes = files.get(path);
      if (bytes) return bytes;
      throw missingFile(path);
    },
  };
}

export const missingFile = (path: string): InputError =>
  new InputError("file-missing", `${path}: not among the files.`, "Add it to the files dropped.");
