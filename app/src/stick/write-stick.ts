import { cameBackDifferent, filesListed, journalPath, manifestPath, sameBytes } from "#core";
import type { StickFolder } from "./stick-folder.ts";

interface StickWriting {
  /** Every file, manifest.json among them. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** What stands in the way, and the dated folder it goes to; null when there is none to move. */
  readonly aside: { readonly from: string; readonly to: string } | null;
  readonly onProgress: (done: number, total: number) => void;
}

/**
 * Puts a set on a stick as the command line does: a journal that lists all to come, an existing TASKDATA out of the way, the
 * files, all of them read back, and last the manifest. Whatever stops it, the stick holds the set it held, or one
 * that `check` calls incomplete. Throws `came-back-different`.
 */
export async function writeStick(stick: StickFolder, writing: StickWriting): Promise<void> {
  const { files, aside, onProgress } = writing;
  const left = filesListed(await bytesAt(stick, journalPath), journalPath);
  const stays = filesListed(await bytesAt(stick, manifestPath), manifestPath);
  const manifest = files.get(manifestPath)!;
  // Halves that an interrupted writing left under names of its own; the set on the stick has none of them.
  for (const path of left.keys()) {
    if (stays.has(path) || files.has(path) || path.startsWith("TASKDATA/")) continue;
    if ((await bytesAt(stick, path)) !== null) await stick.remove(path);
  }
  await stick.write(journalPath, manifest);
  if (aside !== null) await moveAside(stick, aside.from, aside.to);
  const paths = [...files.keys()].filter((path) => path !== manifestPath);
  for (const [at, path] of paths.entries()) {
    const bytes = files.get(path)!;
    if (!(await holds(stick, path, bytes))) await stick.write(path, bytes);
    onProgress(at + 1, paths.length);
  }
  for (const path of paths) await readBack(stick, path, files.get(path)!);
  await stick.write(manifestPath, manifest);
  await readBack(stick, manifestPath, manifest);
  await stick.remove(journalPath);
}

/** Copies a folder, holds every copy against its original, and only then takes the original away. */
async function moveAside(stick: StickFolder, from: string, to: string): Promise<void> {
  const inside = (await stick.files()).filter((path) => path.startsWith(`${from}/`));
  for (const path of inside) {
    const bytes = (await bytesAt(stick, path))!;
    const copy = `${to}${path.slice(from.length)}`;
    await stick.write(copy, bytes);
    await readBack(stick, copy, bytes);
  }
  await stick.remove(from);
}

async function readBack(stick: StickFolder, path: string, meant: Uint8Array): Promise<void> {
  if (!(await holds(stick, path, meant))) throw cameBackDifferent(path);
}

/** Null where no file is. */
async function bytesAt(stick: StickFolder, path: string): Promise<Uint8Array | null> {
  const there = await stick.read(path);
  return there === "other" ? null : there;
}

async function holds(stick: StickFolder, path: string, meant: Uint8Array): Promise<boolean> {
  const there = await bytesAt(stick, path);
  return there !== null && sameBytes(there, meant);
}
