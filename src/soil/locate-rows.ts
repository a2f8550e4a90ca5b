import {
  type CoordinateSystemFrom,
  type FileAnswers,
  type NumberMarks,
  type Places,
  plainName,
  readPlaces,
} from "../formats/index.ts";
import { joinPoints } from "./join-points.ts";
import type { LabWants } from "./lab-wants.ts";
import type { LabHeading, SampleFile, SampleRow } from "./sample-types.ts";

/** The places of a lab table's rows: its own, those of its columns, or by id those of another file; else `join-points`. */
export function locateRows(
  file: SampleFile,
  rows: readonly SampleRow[],
  ids: readonly string[],
  fields: readonly (string | null)[],
  headings: readonly LabHeading[],
  answers: FileAnswers,
  wants: LabWants,
  marks: NumberMarks,
): Places {
  const standard = {
    coordinateSystem: "OGC:CRS84",
    coordinateSystemFrom: "headings" as CoordinateSystemFrom,
  };
  if (file.placed !== undefined) {
    return {
      ...standard,
      ...file.placed,
      places: rows.map((row) => row.at ?? null),
      questions: [],
      notices: [],
    };
  }
  const latitude = headings.find((heading) => heading.means === "latitude")?.column;
  const longitude = headings.find((heading) => heading.means === "longitude")?.column;
  const one = file.one ?? "line";
  const hasText = (column: number) => rows.some((row) => (row.cells[column] ?? "").trim() !== "");
  if (latitude !== undefined && longitude !== undefined && hasText(latitude) && hasText(longitude)) {
    const table = { path: file.name, one, headings: file.headings, rows };
    return readPlaces(table, { latitude, longitude }, marks, answers, wants.isNearField);
  }
  if (wants.points !== undefined) {
    const joined = joinPoints(
      file.name,
      ids.map((id, index) => ({ id, field: fields[index]!, line: rows[index]!.line })),
      wants.points,
    );
    return { ...standard, ...joined, questions: [] };
  }
  const answer = answers["join-points"];
  const meaning = (means: LabHeading["means"]) => headings.find((heading) => heading.means === means);
  const idHeading = meaning("sample") ?? meaning("labNumber") ?? zoneHeading(headings);
  const byField = headings.find((heading) => heading.means === "field");
  const chosen =
    byField === undefined
      ? ""
      : `, its column of fields taken as the sample's number (column:${file.name}:${byField.heading}=sample)`;
  const wrong = answer === undefined ? "" : ` “${answer}” was not found.`;
  const text = `The samples have no positions. Which file has points with the same ids? Where each is of a whole zone, polygons with these ids serve as well: give them to the plan with this table, as zones. Where each is of a whole field, a copy of the boundaries under another name serves as zones${chosen}.${wrong}`;
  const by =
    idHeading === undefined
      ? "no column with ids"
      : `column “${idHeading.heading}”: ${ids.slice(0, 3).join(", ")}`;
  const misses = [...(file.withoutZone ?? [])].map(([line, what]) => `${one} ${line}: ${what}`);
  const none = misses.length === 0 ? "" : `; ${misses.slice(0, 3).join("; ")}`;
  const seen = `${file.name}: no latitude and longitude; ${by}${none}`;
  return {
    ...standard,
    places: rows.map(() => null),
    questions: [{ key: "join-points", text, choices: [], seen }],
    notices: [],
  };
}

/** Whether a heading is of the column that names the zone a row's composite is of. */
export const isZoneHeading = (heading: string): boolean => ["zone", "zoneid"].includes(plainName(heading));

/** That column, where a table has one. */
export const zoneHeading = (headings: readonly LabHeading[]): LabHeading | undefined =>
  headings.find(({ heading }) => isZoneHeading(heading));
