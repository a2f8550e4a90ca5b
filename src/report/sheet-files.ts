import type { RunResult } from "../plan/index.ts";
import { cabSheet } from "./cab-sheet.ts";
import { fieldSheet } from "./field-sheet.ts";
import { fillsSheet, hasFills } from "./fills-sheet.ts";
import { orderSheet } from "./order-sheet.ts";
import { hasSeason, seasonSheet } from "./season-sheet.ts";
import { spreaderSheet } from "./spreader-sheet.ts";

/** Every sheet of a build, path to HTML. */
export function sheetFiles(result: RunResult): Map<string, string> {
  const files = new Map<string, string>();
  files.set("cab.html", cabSheet(result));
  const spreader = spreaderSheet(result);
  if (spreader !== null) files.set("spreader.html", spreader);
  files.set("order.html", orderSheet(result));
  if (hasFills(result)) files.set("fills.html", fillsSheet(result));
  if (hasSeason(result)) files.set("season.html", seasonSheet(result));
  for (const field of result.fields) {
    files.set(`fields/${field.field.id}/field-sheet.html`, fieldSheet(result, field));
  }
  return files;
}
