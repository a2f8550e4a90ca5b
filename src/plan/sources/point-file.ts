import { InputError } from "../../errors/index.ts";
import { type FileAnswers, type Layer, placeColumns, pointsOfTable, refusalOf } from "../../formats/index.ts";
import { type PointFile, readHeading } from "../../soil/index.ts";
import { type InputItem, readItems } from "./read-items.ts";

/**
 * The points of a file by their ids, for samples that carry no positions. Ids stand in a column such as SAMPLE or id, or
 * are the names of placemarks. Throws `no-points`, `no-ids`, and a question left open about that file as an InputError.
 */
export function pointFileOf(
  name: string,
  files: ReadonlyMap<string, Uint8Array>,
  answers: FileAnswers,
): PointFile {
  const { items } = readItems(name, files, answers);
  const found = items.map((item) => pointsIn(item, answers)).find((one) => one !== null);
  if (found === undefined || found === null) {
    throw new InputError(
      "no-points",
      `${name} holds no points`,
      "Name a file of points with the same sample ids.",
    );
  }
  const [question] = found.questions;
  if (question !== undefined) throw refusalOf(question);
  const { layer } = found;
  const columns = layer.columns.map(({ name: column }) => column);
  const means = columns.map((column, index) => readHeading(column, index).means);
  const named = columns.findIndex((column) => column.toLowerCase() === "name");
  const idColumn = columns[means.indexOf("sample")] ?? columns[named];
  const fieldColumn = columns[means.indexOf("field")];
  if (idColumn === undefined) {
    const message = `${name}: no column with sample ids among ${columns.join(", ") || "none"}`;
    throw new InputError("no-ids", message, "Name the column SAMPLE or id.");
  }
  const points = layer.features.flatMap(({ geometry, properties }) => {
    if (geometry?.kind !== "point") return [];
    const field = fieldColumn === undefined ? null : String(properties[fieldColumn] ?? "");
    return [{ id: String(properties[idColumn] ?? ""), field, at: geometry.at }];
  });
  return { name, points };
}

/** Points with attributes, or a table with latitude and longitude; null when an item is neither. */
function pointsIn(
  item: InputItem,
  answers: FileAnswers,
): { layer: Layer; questions: InputItem["questions"] } | null {
  if (item.kind === "points" && item.layer !== null) return { layer: item.layer, questions: item.questions };
  if (item.samples === null || placeColumns(item.samples.headings) === null) return null;
  const { name, headings, rows, encoding = "UTF-8" } = item.samples;
  return pointsOfTable({ name, headings, units: null, rows, encoding, notices: [] }, answers);
}
