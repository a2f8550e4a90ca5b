import { InputError } from "../errors/index.ts";

/** The value of a JSON text in UTF-8, of whatever shape. Throws `not-json` with what is wrong and where, as far as that is known. */
export function readJson(bytes: Uint8Array, name: string): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    const remedy = "Open it in a text editor and mend it.";
    throw new InputError("not-json", `${name}: not readable as JSON (${why}).`, remedy, { cause });
  }
}
