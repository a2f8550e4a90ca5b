import type { RunResult } from "../plan/index.ts";
import { hasOrderRecord, sheetFiles } from "../report/index.ts";
import { cellsCsv } from "./cells-csv.ts";
import { writeManifest } from "./manifest.ts";
import { orderCsv } from "./order-csv.ts";
import { orderRecordCsv } from "./order-record-csv.ts";
import { extraPath, prescriptionPath } from "./paths.ts";
import { resultJson } from "./result-json.ts";
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
  const files = new Map<string, Uint8Array>();
  files.set("result.json", utf8.encode(`${JSON.stringify(resultJson(result), null, 1)}\n`));
  files.set("order.csv", orderCsv(result));
  if (hasOrderRecord(result)) files.set("order-record.csv", orderRecordCsv(result));
  for (const field of result.fields) {
    files.set(`fields/${field.field.id}/cells.csv`, cellsCsv(field));
    const gaps = shortAndOverCsv(field);
    if (gaps) files.set(`fields/${field.field.id}/short-and-over.csv`, gaps);
    for (const prescription of field.prescriptions) {
      for (const [name, bytes] of prescription.files) files.set(prescriptionPath(prescription, name), bytes);
    }
    for (const extra of field.extras) {
      for (const [name, bytes] of extra.files) files.set(extraPath(extra, name), bytes);
    }
  }
  for (const [path, html] of sheetFiles(result)) files.set(path, utf8.encode(html));
  for (const [path, bytes] of planFiles) files.set(`plan/${path}`, bytes);
  files.set("manifest.json", writeManifest({ files, planSha256: result.planSha256, toolVersion }));
  return files;
}
