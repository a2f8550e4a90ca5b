import { InputError } from "../../errors/index.ts";
import { shapefileStem } from "../../formats/index.ts";

const WORKBOOK = /\.(xlsx?|xlsm|xlsb|ods)$/i;
const READ_ENDINGS = /^(geojsonl?|ndjson|json|kml|csv|tsv|txt|xml)$/;

export const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;

/** Whether a file by itself is of a kind that is read, a part of a shapefile among them; what it holds may still be wrong. */
export function isKindRead(path: string, bytes: Uint8Array): boolean {
  if (WORKBOOK.test(path)) return false;
  return isZip(bytes) || shapefileStem(path) !== null || READ_ENDINGS.test(endingOf(path, bytes, true));
}

/** A workbook is a zip inside, but no archive of inputs. Throws `not-read-yet`. */
export function refuseWorkbook(path: string, name: string): void {
  if (!WORKBOOK.test(path)) return;
  const remedy = "Save its sheet of soil tests as CSV.";
  throw new InputError("not-read-yet", `${name}: workbooks are not read.`, remedy);
}

/** Why nothing was found in these files: `not-read-yet`, `shapefile-part-alone` or `no-input`. */
export function nothingRead(name: string, paths: readonly string[]): InputError {
  const isAlone = paths.length === 1;
  if (isAlone && shapefileStem(paths[0]!) !== null) {
    const remedy = "Give the .shp; it brings the files of its name with it.";
    return new InputError(
      "shapefile-part-alone",
      `${name}: is a part of a shapefile without its .shp.`,
      remedy,
    );
  }
  const message = isAlone
    ? `${name}: files of this kind are not read.`
    : `${name}: nothing in it can be read (${paths.slice(0, 5).join(", ")}).`;
  return new InputError(
    isAlone ? "not-read-yet" : "no-input",
    message,
    "Give shapes as GeoJSON, KML or a zipped shapefile, soil tests as CSV or XML, task data as its folder.",
  );
}

/** The ending of a path; of a file alone whose ending says nothing, by its first character. Standard input is `-`. */
export function endingOf(path: string, bytes: Uint8Array, isAlone: boolean): string {
  const ending = path.slice(path.lastIndexOf(".") + 1).toLowerCase();
  if (!isAlone || READ_ENDINGS.test(ending)) return ending;
  const first = bytes.subarray(0, 64).find((byte) => ![0x20, 9, 10, 13, 0xef, 0xbb, 0xbf].includes(byte));
  if (first === 0x7b) return "json";
  if (first === 0x3c) return "xml";
  return path === "-" ? "csv" : ending;
}
