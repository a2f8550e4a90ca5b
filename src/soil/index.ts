export { assignSamples, type FieldPlace, type FieldSamples } from "./assign-samples.ts";
export { type LabHeading, readHeading } from "./lab-heading.ts";
export { type LabTable, readLabTable, type SampleFile } from "./lab-table.ts";
export { type RecordTable, type SampleRecord, sampleRecords } from "./sample-records.ts";
export type { SoilSample, SoilTest, TestReading } from "./soil-sample.ts";
