import { InputError } from "../errors/index.ts";
import { type Feature, fileStem, type Layer } from "./feature.ts";
import { numberMarks } from "./number-marks.ts";
import type { Table } from "./read-csv.ts";
import { placeColumns, readPlaces } from "./read-places.ts";
import type { LayerReading } from "./settle-layer.ts";
import type { FileAnswers } from "./settle-system.ts";

/**
 * A table with columns for latitude and longitude as a layer of points; the other columns are its attributes, as text.
 * Rows without a position are features without a shape. Questions as in `readPlaces`, and `decimal-comma`.
 * Throws `no-positions`.
 */
export function pointsOfTable(table: Table, answers: FileAnswers): LayerReading {
  const columns = placeColumns(table.headings);
  if (columns === null) {
    throw new InputError(
      "no-positions",
      `${table.name}: no columns for latitude and longitude among “${table.headings.join("”, “")}”`,
      "Name the columns lat and lon.",
    );
  }
  const cells = table.rows.flatMap(({ line, cells: row }) =>
    [columns.latitude, columns.longitude].map((column) => ({
      text: row[column] ?? "",
      where: `line ${line}, column ${table.headings[column]}`,
    })),
  );
  const marks = numberMarks(cells, table.name, answers);
  const rows = { path: table.name, one: "line" as const, headings: table.headings, rows: table.rows };
  const found = readPlaces(rows, columns, marks, answers);
  const attributes = table.headings.flatMap((name, column) => {
    return name === "" || column === columns.latitude || column === columns.longitude
      ? []
      : [{ name, column }];
  });
  const features = table.rows.map(({ line, cells: row }, index): Feature => {
    const at = found.places[index] ?? null;
    const values = attributes.map(({ name, column }) => [name, row[column]?.trim() || null] as const);
    return {
      record: line,
      geometry: at === null ? null : { kind: "point", at },
      properties: Object.fromEntries(values),
    };
  });
  const layer: Layer = {
    name: fileStem(table.name),
    path: table.name,
    one: "line",
    features,
    skipped: [],
    columns: attributes.map(({ name }) => ({ name, kind: "text" })),
    coordinateSystem: found.coordinateSystem,
    coordinateSystemFrom: found.coordinateSystemFrom,
    encoding: table.encoding,
    notices: [...table.notices, ...marks.notices, ...found.notices],
  };
  const questions = [...marks.questions, ...found.questions];
  return { layer, located: questions.length === 0, questions };
}
