import { lastOfPath } from "./feature.ts";
import { writeZip } from "./write-zip.ts";

type PathAndBytes = readonly [path: string, bytes: Uint8Array];

/** Endings of the files that together are one shapefile, as drawing programs write them. */
const PART = /\.(shp|shx|dbf|prj|cpg|qpj|sbn|sbx|shp\.xml)$/i;
/** The same archive whenever it is made. */
const DATE = "1980-01-01";

/**
 * Files with the parts of each loose shapefile packed into one zip of its name in the place of its .shp; everything else as it
 * is and in its order. Parts without a .shp stay loose.
 */
export function packShapefiles(files: readonly PathAndBytes[]): PathAndBytes[] {
  const stems = new Set(
    files.filter(([path]) => path.toLowerCase().endsWith(".shp")).map(([path]) => shapefileStem(path)),
  );
  return files.flatMap(([path, bytes]): PathAndBytes[] => {
    const stem = shapefileStem(path);
    if (stem === null || !stems.has(stem)) return [[path, bytes]];
    if (!/\.shp$/i.test(path)) return [];
    const parts = files.filter(([other]) => shapefileStem(other) === stem);
    const inside = new Map(parts.map(([name, part]) => [lastOfPath(name), part]));
    return [[path.replace(/\.shp$/i, ".zip"), writeZip(inside, DATE)]];
  });
}

/** A part's path without its ending, in lower case; null for a file that is no part of a shapefile. */
export const shapefileStem = (path: string): string | null =>
  PART.test(path) ? path.replace(PART, "").toLowerCase() : null;
