import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { readCsv, type Table } from "../formats/index.ts";
import { diskError } from "./disk-error.ts";

/** A table of a CSV file. Throws what the disk refuses and the errors of reading. */
export async function readTable(path: string): Promise<Table> {
  const bytes = await readFile(path).catch((error: unknown) => {
    throw diskError(error, path);
  });
  return readCsv(new Uint8Array(bytes), basename(path));
}
