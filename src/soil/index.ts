export { assignSamples, type FieldPlace, isFieldNamed } from "./assign-samples.ts";
export {
  COLUMN_CHOICES,
  COLUMN_UNITS,
  chosenColumns,
  columnKey,
  isColumnChoice,
  isColumnChoiceOf,
  readHeadings,
} from "./chosen-columns.ts";
export type { PointFile } from "./join-points.ts";
export { readHeading } from "./lab-heading.ts";
export { type LabTable, readLabTable } from "./lab-table.ts";
export type { LabWants } from "./lab-wants.ts";
export { isLabXml, readLabXml } from "./lab-xml.ts";
export { isZoneHeading } from "./locate-rows.ts";
export { isMend, isMendOf, leaveOutKey, mendKey } from "./mend-rows.ts";
export { isNear } from "./same-place.ts";
export { hasSoilTests, samplesOfLayer } from "./sample-file.ts";
export { type SampleRecord, sampleRecords } from "./sample-records.ts";
export type { ChosenColumns, LabHeading, LabMeaning, SampleFile, SampleRow } from "./sample-types.ts";
export { type SoilSample, type SoilTest, TESTS, type TestReading } from "./soil-sample.ts";
export { visitsOf } from "./visits.ts";
