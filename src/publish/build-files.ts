import type { RunResult } from "../plan/index.ts";
import { hasOrderRecord, sheetFiles } from "../report/index.ts";
import { cellsCsv } from "./cells-csv.ts";
import { mapFiles } from "./map-files.ts";
import { orderCsv } from "./order-csv.ts";
import { orderRecordCsv } from "./order-record-csv.ts";
import { extraPath } from "./paths.ts";
import { shortAndOverCsv } from "./short-and-over-csv.ts";

const utf8 = new TextEncoder();

/**
 * Every file of a build, path to bytes, the manifest last. `planFiles` is what it was made from, plan.json and its
 * sources by their paths; they stand in the folder `plan`, so that a set can be looked at and made again. Two
 * builds of one plan by one version of the tool give equal bytes.
 */
export function buildFiles(
  result: RunResult,
  toolVersion: string,
  planFiles: ReadonlyMap<string, Uint8Array>,
): Map<string, Uint8Array> {
  const more = new Map<string, Uint8Array>();
  more.set("order.csv", orderCsv(result));
  if (hasOrderRecord(result)) more.set("order-record.csv", orderRecordCsv(result));
  for (const field of result.fields) {
    more.set(`fields/${field.field.id}/cells.csv`, cellsCsv(field));
    const gaps = shortAndOverCsv(field);
    if (gaps) more.set(`fields/${field.field.id}/short-and-over.csv`, gaps);
    for (const extra of field.extras) {
      for (const [name, bytes] of extra.files) more.set(extraPath(extra, name), bytes);
    }
  }
  for (const [path, html] of sheetFiles(result)) more.set(path, utf8.encode(html));
  return mapFiles(result, toolVersion, planFiles, { more });
}
