import type { CoordinateSystemFrom, Layer, One } from "../formats/index.ts";
import type { Point } from "../geo/index.ts";
import { type ChosenColumns, readHeadings } from "./chosen-columns.ts";
import { readHeading } from "./lab-heading.ts";

/** One row of a lab's table; `line` is its number in the file. */
export interface SampleRow {
  readonly line: number;
  /** One a heading, as text. */
  readonly cells: readonly string[];
  /** Longitude and latitude where the row's shape gives them; null for a row without a place. */
  readonly at?: Point | null;
}

/** Soil tests as text, as they stand in a file: headings, units, rows. */
export interface SampleFile {
  /** As messages name it. */
  readonly name: string;
  /** What the file calls a row; a line when absent. */
  readonly one?: One;
  readonly headings: readonly string[];
  /** What somebody said columns are, whatever their headings say. */
  readonly chosen?: ChosenColumns | null;
  /** A row of units below the headings, one a heading. */
  readonly units?: readonly string[] | null;
  readonly rows: readonly SampleRow[];
  readonly encoding?: string;
  /** Where the places of the rows come from, when the rows carry them. */
  readonly placed?: {
    readonly coordinateSystem: string;
    readonly coordinateSystemFrom: CoordinateSystemFrom;
  };
  /** Extractant and its code by test, where the file gives them beside the headings. */
  readonly methods?: Readonly<
    Partial<Record<"P" | "K", { readonly method: string | null; readonly code: string }>>
  >;
  /** Sampling depth, where the file gives it beside the rows. */
  readonly depth?: string;
  /** Results of other depths that were left aside. */
  readonly setAside?: number;
  /** Of composites by zone, what is wrong with the id of a row that is of no zone, by line. */
  readonly withoutZone?: ReadonlyMap<number, string>;
}

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
