import { InputError } from "../../src/errors/index.ts";
import { readLabTable, type SampleFile } from "../../src/soil/index.ts";

/** What the answers say of the extractants. */
export const stated = { "method.P": "mehlich-3", "method.K": "mehlich-3" };

/** A table of one row a line, as read from a file. */
export function table(headings: string, ...rows: string[]): SampleFile {
  return {
    name: "lab.csv",
    headings: headings.split(","),
    rows: rows.map((row, i) => ({ line: i + 2, cells: row.split(",") })),
  };
}

/** The refusal of a table that must not be read. */
export function refusal(file: SampleFile): InputError {
  try {
    readLabTable(file, stated);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("was read");
}
