import { InputError } from "#core";

/** What the browser says of a folder, in words; anything else as it is. */
export function stickError(error: unknown, name: string): unknown {
  if (!(error instanceof DOMException)) return error;
  const [message, remedy] = wordsOf(error.name);
  return new InputError("stick-not-written", `${name === "" ? "The folder" : name} ${message}`, remedy, {
    cause: error,
  });
}

function wordsOf(name: string): readonly [message: string, remedy: string] {
  if (name === "NotAllowedError" || name === "NoModificationAllowedError") {
    return ["may not be written to", "Allow writing when the browser asks, or take another folder."];
  }
  if (name === "QuotaExceededError") {
    return ["is full; the set on it is incomplete", "Make room and write it again, or take another stick."];
  }
  return [
    "went away while it was written; the set on it may be incomplete",
    "Put the stick in again and write it once more.",
  ];
}
