import { readFileSync } from "node:fs";

/** A sheet as text, cells without the heading that each carries for narrow screens. */
export const sheetCells = (path: string): string =>
  readFileSync(path, "utf8").replaceAll(/ data-of="[^"]*"/g, "");
