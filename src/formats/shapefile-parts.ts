import { InputError } from "../errors/index.ts";
import { fileStem } from "./feature.ts";

/** The files of one shapefile. */
export interface ShapefileParts {
  /** The name all parts share, as written for the .shp, without folder. */
  readonly stem: string;
  /** The .shp's path as given, for messages. */
  readonly path: string;
  readonly shp: Uint8Array;
  readonly shx?: Uint8Array;
  readonly dbf?: Uint8Array;
  readonly prj?: Uint8Array;
  readonly cpg?: Uint8Array;
}

/** .shp and .dbf stay below 2 GiB for other software (GDAL, ESRI Shapefile driver page), bytes. */
export const LARGEST_PART: number = 2 ** 31 - 1;

const SIDE_FILES = ["shx", "dbf", "prj", "cpg"] as const;

/**
 * The shapefiles among files (path -> bytes), in their order. Parts belong together when folder and stem are
 * the same, letter case aside. Files that belong to no shapefile are passed over.
 * Throws `repeated-part` when two files differ by letter case alone.
 */
export function shapefilesIn(files: ReadonlyMap<string, Uint8Array>, name: string): ShapefileParts[] {
  const byPath = new Map<string, { readonly path: string; readonly bytes: Uint8Array }>();
  for (const [path, bytes] of files) {
    if (!/\.(shp|shx|dbf|prj|cpg)$/i.test(path)) continue;
    const same = byPath.get(path.toLowerCase());
    if (same !== undefined) {
      const message = `${name} holds both ${same.path} and ${path}`;
      throw new InputError("repeated-part", message, "Keep one of the two.");
    }
    byPath.set(path.toLowerCase(), { path, bytes });
  }
  const found: ShapefileParts[] = [];
  for (const [lower, { path, bytes }] of byPath) {
    if (!lower.endsWith(".shp")) continue;
    const sides = SIDE_FILES.flatMap((ending) => {
      const side = byPath.get(`${lower.slice(0, -3)}${ending}`);
      return side === undefined ? [] : [[ending, side.bytes] as const];
    });
    found.push({ stem: fileStem(path), path, shp: bytes, ...Object.fromEntries(sides) });
  }
  return found;
}
