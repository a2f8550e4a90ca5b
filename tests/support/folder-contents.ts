import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import { InputError } from "../../src/errors/index.ts";

/** Every file below the folder, path to text. */
export function contents(folder: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    if (entry.isFile()) found[path.slice(folder.length + 1)] = readFileSync(path, "utf8");
  }
  return found;
}

/** The files of a set as `contents` shows them. */
export function textsOf(set: ReadonlyMap<string, Uint8Array>): Record<string, string> {
  return Object.fromEntries([...set].map(([path, bytes]) => [path, new TextDecoder().decode(bytes)]));
}

/** The `InputError` that the work ends with; fails when it ends otherwise. */
export async function refusal(work: Promise<unknown>): Promise<InputError> {
  const error = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(InputError);
  return error as InputError;
}
