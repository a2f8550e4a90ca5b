export { assignSamples, type FieldPlace, isFieldNamed } from "./assign-samples.ts";
export {
  type ChosenColumns,
  COLUMN_CHOICES,
  COLUMN_UNITS,
  chosenColumns,
  columnKey,
  isColumnChoice,
  isColumnChoiceOf,
  readHeadings,
} from "./chosen-columns.ts";
export type { PointFile } from "./join-points.ts";
export { type LabHeading, type LabMeaning, readHeading } from "./lab-heading.ts";
export { type LabTable, type LabWants, readLabTable } from "./lab-table.ts";
export { isLabXml, readLabXml } from "./lab-xml.ts";
export { isZoneHeading } from "./locate-rows.ts";
export { isMend, isMendOf, leaveOutKey, mendKey } from "./mend-rows.ts";
export { isNear } from "./same-place.ts";
export { hasSoilTests, type SampleFile, type SampleRow, samplesOfLayer } from "./sample-file.ts";
export { type SampleRecord, sampleRecords } from "./sample-records.ts";
export type { SoilSample, SoilTest, TestReading } from "./soil-sample.ts";
export { visitsOf } from "./visits.ts";
