import type { Feature } from "./feature.ts";
import { WGS84_PRJ } from "./wgs84-prj.ts";
import { type DbfColumn, writeDbf } from "./write-dbf.ts";
import { writeShp } from "./write-shp.ts";

export interface ShapefileContent {
  /** Name of the files without ending: letters, digits, underscores. */
  readonly stem: string;
  /** Polygons in longitude and latitude, each with one outer ring; several parts are several features. */
  readonly features: readonly Feature[];
  readonly columns: readonly DbfColumn[];
  /** `YYYY-MM-DD`, for the header of the .dbf. */
  readonly date: string;
}

/**
 * The five files of a shapefile (name -> bytes, order .shp .shx .dbf .prj .cpg), records in the order of the
 * features. Coordinates are written as given. Throws what `writeShp` and `writeDbf` throw, and a plain Error on
 * a feature that is not one polygon.
 */
export function writeShapefile(content: ShapefileContent): Map<string, Uint8Array<ArrayBuffer>> {
  const { stem, features, columns, date } = content;
  if (!/^[A-Za-z0-9_]+$/.test(stem)) throw new Error(`"${stem}" cannot be a file name everywhere`);
  const polygons = features.map(({ geometry, record }) => {
    const polygon = geometry?.kind === "polygon" ? geometry.polygons[0] : undefined;
    if (geometry?.kind !== "polygon" || polygon === undefined || geometry.polygons.length !== 1) {
      throw new Error(`feature ${record} is not one polygon`);
    }
    return polygon;
  });
  const rows = features.map((feature) => feature.properties);
  const { shp, shx } = writeShp(polygons);
  const ascii = new TextEncoder();
  return new Map([
    [`${stem}.shp`, shp],
    [`${stem}.shx`, shx],
    [`${stem}.dbf`, writeDbf(rows, columns, date, `${stem}.dbf`)],
    [`${stem}.prj`, ascii.encode(WGS84_PRJ)],
    [`${stem}.cpg`, ascii.encode("UTF-8")],
  ]);
}
