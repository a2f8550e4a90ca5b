export { isDay } from "./calendar-date.ts";
export {
  type Column,
  type CoordinateSystemFrom,
  type Feature,
  type Geometry,
  type Layer,
  type Properties,
  type Value,
  visitPoints,
} from "./feature.ts";
export { readCsv, type Table, type TableRow } from "./read-csv.ts";
export { readGeoJson } from "./read-geojson.ts";
export { readNumber } from "./read-number.ts";
export { readShapefile, readShapefileZip } from "./read-shapefile.ts";
export { readText, type Text } from "./read-text.ts";
export { readZip, type ZipCaps, type ZipContents } from "./read-zip.ts";
export { rereadGeoJson } from "./reread-geojson.ts";
export { rereadShapefile } from "./reread-shapefile.ts";
export { sha256Hex } from "./sha256.ts";
export { type ShapefileParts, shapefilesIn } from "./shapefile-parts.ts";
export { writeCsv } from "./write-csv.ts";
export { type DbfColumn, plainAscii } from "./write-dbf.ts";
export { type GeoJsonOptions, writeGeoJson } from "./write-geojson.ts";
export { type ShapefileContent, writeShapefile } from "./write-shapefile.ts";
export { writeZip } from "./write-zip.ts";
