import type { Layer } from "../formats/index.ts";
import { readHeadings } from "./chosen-columns.ts";
import { readHeading } from "./lab-heading.ts";
import type { SampleFile, SampleRow } from "./sample-types.ts";

/** Whether columns name a soil test, in columns or one row a test. */
export function hasSoilTests(table: Pick<SampleFile, "headings" | "chosen">): boolean {
  const means = new Set(readHeadings(table).map((heading) => heading.means));
  const wide = (["P", "K", "P2O5", "K2O"] as const).some((test) => means.has(test));
  return wide || (means.has("analyte") && means.has("value"));
}

/** Points with attributes as a table of samples; a feature's `name` is its id where no column is one. */
export function samplesOfLayer(layer: Layer): SampleFile {
  const named = layer.columns.map(({ name }) => name);
  const hasId = named.some((name, column) => readHeading(name, column).means === "sample");
  const headings = hasId ? named : named.map((name) => (name.toLowerCase() === "name" ? "sample" : name));
  const rows = layer.features.map(({ record, geometry, properties }): SampleRow => {
    const at = geometry?.kind === "point" ? geometry.at : null;
    return { line: record, at, cells: named.map((name) => String(properties[name] ?? "")) };
  });
  const { coordinateSystem, coordinateSystemFrom, encoding, one, path } = layer;
  return { name: path, one, headings, rows, encoding, placed: { coordinateSystem, coordinateSystemFrom } };
}
