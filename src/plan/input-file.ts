import { InputError } from "../errors/index.ts";
import {
  type Layer,
  readCsv,
  readGeoJson,
  readShapefileZip,
  sha256Hex,
  type Table,
} from "../formats/index.ts";

/** One input file after reading: layers of shapes, or a table, never both. */
export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly layers: readonly Layer[];
  readonly table: Table | null;
}

/** Read a file by its ending; one of another kind is refused by name. */
export function readInputFile(path: string, bytes: Uint8Array): InputFile {
  const sha256 = sha256Hex(bytes);
  const ending = path.slice(path.lastIndexOf(".") + 1).toLowerCase();
  if (ending === "zip") return { path, sha256, layers: readShapefileZip(bytes, path), table: null };
  if (ending === "geojson" || ending === "json") {
    return { path, sha256, layers: [readGeoJson(bytes, path)], table: null };
  }
  if (ending === "csv") return { path, sha256, layers: [], table: readCsv(bytes, path) };
  throw new InputError(
    "not-read-yet",
    `${path}: files ending in “.${ending}” are not read yet.`,
    "Give boundaries and lines as GeoJSON or as one zipped shapefile, soil tests as CSV.",
  );
}
