import { InputError } from "../errors/index.ts";

/** What the system said, as a code, its meaning and what to do. Anything else is our bug. */
const known: Readonly<Record<string, readonly [code: string, meaning: string, remedy: string]>> = {
  ENOENT: ["no-such-file", "is not there", "Check the name and the folder."],
  ENOTDIR: ["not-a-folder", "is not a folder, or lies under a file", "Give the name of a folder."],
  EISDIR: ["is-a-folder", "is a folder", "Give the name of a file."],
  EACCES: [
    "no-access",
    "may not be read or written by this user",
    "Change its permissions or use another place.",
  ],
  EPERM: ["no-access", "may not be changed by this user", "Change its permissions or use another place."],
  EROFS: ["read-only-disk", "is on a disk that cannot be written", "Use another place, or unlock the disk."],
  ENOSPC: ["disk-full", "does not fit: the disk is full", "Make room or use another disk."],
  EDQUOT: ["disk-full", "does not fit: the disk quota is used up", "Make room or use another disk."],
  EBUSY: [
    "in-use",
    "is in use",
    "Close what uses it; a mounted disk itself cannot be replaced, only a folder on it.",
  ],
  EXDEV: ["in-use", "is a disk of its own", "Use a folder on that disk instead of the disk itself."],
  ELOOP: ["link-loop", "is a link that leads to itself", "Give the file itself."],
  EIO: ["disk-fault", "could not be read or written: the disk reports a fault", "Use another disk."],
  ENAMETOOLONG: ["name-too-long", "has too long a name for this disk", "Use a shorter name."],
  ERR_FS_FILE_TOO_LARGE: ["file-too-large", "is too large to read (2 GiB at most)", "Split the file."],
};

/** The system's refusal about `path` as an `InputError`; any other error comes back as it is. */
export function diskError(error: unknown, path: string): unknown {
  const entry = known[(error as NodeJS.ErrnoException | null)?.code ?? ""];
  if (error instanceof InputError || entry === undefined) return error;
  const [code, meaning, remedy] = entry;
  return new InputError(code, `${path} ${meaning}`, remedy, { cause: error });
}
