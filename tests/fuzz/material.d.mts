/** The readers that are fuzzed, by name. */
export const READERS: readonly string[];
/** Task data with a time log of forty rows: path -> bytes. */
export function taskLogFiles(): Map<string, Uint8Array>;
