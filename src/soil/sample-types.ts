import type { CoordinateSystemFrom, LabUnit, One } from "../formats/index.ts";
import type { Point } from "../geo/index.ts";

/** What one heading of a lab table says about its column; null where it does not say. */
export interface LabHeading {
  readonly heading: string;
  readonly column: number;
  readonly means: LabMeaning;
  readonly unit: LabUnit | null;
  /** Extractant and finish, such as `mehlich-3-icp`. */
  readonly method: string | null;
}

/** What a column of a lab table holds. */
export type LabMeaning =
  | "sample"
  | "labNumber"
  | "field"
  | "latitude"
  | "longitude"
  | "depth"
  | "depthTop"
  | "depthBottom"
  | "date"
  | "analyte"
  | "value"
  | "unit"
  | "method"
  | "P"
  | "K"
  | "CEC"
  | "pH"
  | "bufferPH"
  | "OM"
  | "P2O5"
  | "K2O"
  | "other";

/** What somebody said a column is, whatever its heading says; by heading. */
export type ChosenColumns = Readonly<
  Record<string, { readonly means: LabMeaning; readonly unit: LabUnit | null }>
>;

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
