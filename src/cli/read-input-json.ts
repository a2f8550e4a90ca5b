import { readFile } from "node:fs/promises";
import type { z } from "zod";
import { InputError } from "../errors/index.ts";
import { diskError } from "./disk-error.ts";

/** The figures in `--input FILE` (`-` is standard input) by their shape. Throws `input-not-usable` naming the key. */
export async function readInputJson<T>(
  path: string,
  shape: z.ZodType<T>,
  readStandardInput: () => Promise<Uint8Array>,
): Promise<T> {
  const bytes =
    path === "-"
      ? await readStandardInput()
      : await readFile(path).catch((error: unknown) => {
          throw diskError(error, path);
        });
  const found = shape.safeParse(parsed(new TextDecoder().decode(bytes), path));
  if (found.success) return found.data;
  const issue = found.error.issues[0]!;
  const key = issue.path.length === 0 ? "the file" : issue.path.join(".");
  throw new InputError("input-not-usable", `${path}: ${key}: ${issue.message}`, "Mend it and run again.");
}

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : "";
    throw new InputError("input-not-usable", `${path}: no JSON (${why})`, "Give one JSON object.");
  }
}
