import { InputError } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import type { FileSource } from "../plan/index.ts";
import { type Manifest, type ManifestFile, manifestPath } from "./manifest.ts";

/** A file of a set that is not as its manifest says. */
export interface FileProblem {
  readonly path: string;
  readonly kind: "missing" | "changed" | "unreadable" | "stranger";
  /** One line that begins with the path. */
  readonly message: string;
}

/**
 * Holds a set of files against its manifest: every listed file there with the same bytes, none besides.
 * Problems come sorted by path; an empty list means that the set is as written. Reads one file at a time.
 * A file the source refuses to read is a problem of that file, not an error.
 */
export async function checkFiles(manifest: Manifest, source: FileSource): Promise<readonly FileProblem[]> {
  const present = new Set(await source.list());
  const problems = strangers(manifest, present);
  for (const file of manifest.files) {
    if (!present.has(file.path)) {
      problems.push({ path: file.path, kind: "missing", message: `${file.path}: missing` });
      continue;
    }
    const problem = await readAndCompare(file, source);
    if (problem) problems.push(problem);
  }
  return problems.sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** The files that stand in the set's folder without being listed; the manifest itself is none. */
export function strangers(manifest: Manifest, present: Iterable<string>): FileProblem[] {
  const listed = new Set(manifest.files.map((file) => file.path)).add(manifestPath);
  return [...present]
    .filter((path) => !listed.has(path))
    .map((path) => ({ path, kind: "stranger", message: `${path}: not part of what was written` }));
}

async function readAndCompare(file: ManifestFile, source: FileSource): Promise<FileProblem | null> {
  const { path } = file;
  let bytes: Uint8Array;
  try {
    bytes = await source.read(path);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { path, kind: "unreadable", message: `${path}: cannot be read (${error.message})` };
  }
  if (bytes.length !== file.bytes) {
    return {
      path,
      kind: "changed",
      message: `${path}: changed (${bytes.length} bytes, written with ${file.bytes})`,
    };
  }
  if (sha256Hex(bytes) !== file.sha256)
    return { path, kind: "changed", message: `${path}: changed (same length, other content)` };
  return null;
}
