import type { Call } from "./command.ts";
import { prepareFolder, publishFolder } from "./swap.ts";
import { sayNotices } from "./talk.ts";

/** Asked before the work begins: throws when the folder of --out would be refused once the files are there. */
export async function prepareOut({ options, talk }: Call, out: string): Promise<void> {
  sayNotices(talk, await prepareFolder(out, options.overwrite));
}

/** Puts a set of files into the folder of --out, whole or not at all, and tells how far it is. */
export async function writeOut(
  { options, talk, signal }: Call,
  out: string,
  files: ReadonlyMap<string, Uint8Array>,
): Promise<void> {
  const leftovers = await publishFolder(out, files, {
    overwrite: options.overwrite,
    signal,
    onProgress: (done, total) => talk.progress("Writing file", done, total),
  });
  sayNotices(talk, leftovers);
}
