import type { Notice } from "../errors/index.ts";
import type { Geometry } from "../geo/index.ts";

/** What a file may say about a shape; null is "no value", never 0 and never an empty text. Dates are texts
 * `YYYY-MM-DD`. */
export type Value = string | number | boolean | null;
export type Properties = Readonly<Record<string, Value>>;

export interface Feature {
  /** Its number in the file, from 1. Records that were left out keep theirs, so numbers may have gaps, and the
   * points of one multipoint record share one. */
  readonly record: number;
  /** Null when the file gives attributes without a shape. */
  readonly geometry: Geometry | null;
  readonly properties: Properties;
}

export interface Column {
  readonly name: string;
  /** Kind of the values met; `mixed` when they differ, `empty` when there are none. */
  readonly kind: "text" | "number" | "boolean" | "date" | "mixed" | "empty";
}

/** How the coordinate system is known: the file says so, its format fixes it, its headings name degrees, or somebody
 * answered. */
export type CoordinateSystemFrom = ".prj" | "crs member" | "standard" | "headings" | "answer";

/** The file's word for one of its features; messages name it with its number. */
export type One = "record" | "feature" | "line";

/** A feature that was left out, by its number. */
export interface Skipped {
  readonly record: number;
  readonly reason: string;
}

/** Shapes and attributes of one file, longitude and latitude in degrees (WGS84). */
export interface Layer {
  /** The file's name without folder and ending. */
  readonly name: string;
  /** The file as messages name it. */
  readonly path: string;
  readonly one: One;
  readonly features: readonly Feature[];
  /** What the file holds and `features` does not. */
  readonly skipped: readonly Skipped[];
  /** In the order of the file. */
  readonly columns: readonly Column[];
  /** Of the file; `EPSG:26915`, `OGC:CRS84`, or its own name where no code is known. */
  readonly coordinateSystem: string;
  readonly coordinateSystemFrom: CoordinateSystemFrom;
  /** Of the texts: `UTF-8`, `windows-1252`, ... */
  readonly encoding: string;
  readonly notices: readonly Notice[];
}

/** The columns of features whose file has no list of columns: names in order of first appearance. */
export function columnsOf(features: readonly Feature[]): Column[] {
  const kinds = new Map<string, Column["kind"]>();
  for (const feature of features) {
    for (const [name, value] of Object.entries(feature.properties)) {
      const before = kinds.get(name) ?? "empty";
      const kind = kindOf(value);
      const same = before === kind || kind === "empty";
      kinds.set(name, same ? before : before === "empty" ? kind : "mixed");
    }
  }
  return [...kinds].map(([name, kind]) => ({ name, kind }));
}

function kindOf(value: Value): Column["kind"] {
  if (value === null) return "empty";
  if (typeof value === "number") return "number";
  return typeof value === "boolean" ? "boolean" : "text";
}

/** `farm/north-80.geojson` -> `north-80.geojson`. */
export const lastOfPath = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

/** `farm/north-80.geojson` -> `north-80`. */
export const fileStem = (path: string): string => lastOfPath(path).replace(/\.[^.]*$/, "");

/** `record 2`, `records 2 and 3`, `records 2, 3 and 4`; after twelve `and 88 more`. */
export function namedOnes(one: One, numbers: readonly number[]): string {
  const unique = [...new Set(numbers)];
  if (unique.length === 1) return `${one} ${unique[0]}`;
  const shown = unique.length > 13 ? unique.slice(0, 12) : unique.slice(0, -1);
  const last = unique.length > 13 ? `${unique.length - 12} more` : unique.at(-1);
  return `${one}s ${shown.join(", ")} and ${last}`;
}
