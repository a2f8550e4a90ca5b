export { type AppliedLog, hasAppliedRates, hasLogColumns, readAppliedPoints } from "./applied-points.ts";
export { dayOfClock, isDay } from "./calendar-date.ts";
export {
  type Column,
  type CoordinateSystemFrom,
  type Feature,
  fileStem,
  type Layer,
  lastOfPath,
  namedOnes,
  type One,
  type Properties,
  type Skipped,
  type Value,
} from "./feature.ts";
export type { AppliedPoint } from "./log-passes.ts";
export { mergeTaskData } from "./merge-task-data.ts";
export { isMissingMark, isNotDetected } from "./missing-marks.ts";
export { type NumberCell, type NumberMarks, numberMarks } from "./number-marks.ts";
export { packShapefiles, shapefileStem } from "./pack-shapefiles.ts";
export { plainName } from "./plain-name.ts";
export { OWN_RATE_COLUMN, type Rates, rateCandidates, readRates } from "./rate-column.ts";
export type { RawLayer } from "./raw-layer.ts";
export { readCsv, type Table } from "./read-csv.ts";
export { rawGeoJson } from "./read-geojson.ts";
export { readJson } from "./read-json.ts";
export { rawKml } from "./read-kml.ts";
export { readNumber } from "./read-number.ts";
export { isPartOfAngle, type Places, placeColumns, placeMeaning, readPlaces } from "./read-places.ts";
export { rawShapefile } from "./read-shapefile.ts";
export { readTaskData, taskDataRoot } from "./read-task-data.ts";
export { readText } from "./read-text.ts";
export { readXml, type XmlElement, xmlBelow, xmlChild, xmlTextOf } from "./read-xml.ts";
export { readZip } from "./read-zip.ts";
export { refusalOf } from "./refusal-of.ts";
export { rereadGeoJson } from "./reread-geojson.ts";
export { rereadShapefile } from "./reread-shapefile.ts";
export { type LayerReading, settleLayer, settleNulls } from "./settle-layer.ts";
export type { FileAnswers } from "./settle-system.ts";
export { sha256Hex } from "./sha256.ts";
export { type ShapefileParts, shapefilesIn } from "./shapefile-parts.ts";
export { pointsOfTable } from "./table-points.ts";
export type { Task, TaskData, TaskField, TaskGrid, TaskRates } from "./task-data-types.ts";
export { chargeUnitOf, isTestUnit, type LabUnit, unitOf } from "./unit-words.ts";
export { writeCsv } from "./write-csv.ts";
export type { DbfColumn } from "./write-dbf.ts";
export { writeGeoJson } from "./write-geojson.ts";
export { writeKml } from "./write-kml.ts";
export { type ShapefileContent, writeShapefile } from "./write-shapefile.ts";
export { shpBytes } from "./write-shp.ts";
export {
  MOST_TASK_ZONES,
  type PlannedField,
  type PlannedGrid,
  type PlannedTask,
  type PlannedZones,
  writeTaskData,
} from "./write-task-data.ts";
export { writeZip } from "./write-zip.ts";
