import { type Answers, InputError, type InputReading, readHeadings, readInputFile } from "#core";
import type { LonLat } from "./drawn-types.ts";

/** Where a row of a table lies. */
interface Spot {
  readonly line: number;
  readonly at: LonLat;
}

/** What of a file can be drawn before it belongs to a plan; degrees. */
export interface Drawable {
  /** Outer rings and holes of its polygons. */
  readonly rings: readonly (readonly LonLat[])[];
  /** Rows whose place can be read, in the file's order, bad ones among them. */
  readonly spots: readonly Spot[];
}

/** Boundaries of shapes, places of a lab table's rows, whether or not the rows can be used. */
export function drawableOf(
  path: string,
  bytes: Uint8Array,
  answers: Answers,
  reading: InputReading | null,
): Drawable {
  const taken = reading?.taken;
  if (taken && "layer" in taken && taken.layer !== null) {
    const rings = taken.layer.features.flatMap(({ geometry }) =>
      geometry?.kind === "polygon"
        ? geometry.polygons.flatMap((polygon) =>
            polygon.map((ring) => ring.map(([lon, lat]): LonLat => [lon, lat])),
          )
        : [],
    );
    return { rings, spots: [] };
  }
  try {
    return { rings: [], spots: spotsIn(readInputFile(path, bytes, answers).table) };
  } catch (error) {
    if (error instanceof InputError) return { rings: [], spots: [] };
    throw error;
  }
}

/** Every place that a file names: corners, ends, rows; none where it cannot be read. */
export function placesIn(path: string, bytes: Uint8Array, answers: Answers): LonLat[] {
  try {
    const { layers, table } = readInputFile(path, bytes, answers);
    const shapes = layers.flatMap(({ features }) =>
      features.flatMap(({ geometry }) => {
        if (geometry?.kind === "polygon") return geometry.polygons.flat(2);
        if (geometry?.kind === "line") return geometry.parts.flat();
        return geometry ? [geometry.at] : [];
      }),
    );
    return [...shapes.map(([lon, lat]): LonLat => [lon, lat]), ...spotsIn(table).map(({ at }) => at)];
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

function spotsIn(table: ReturnType<typeof readInputFile>["table"]): Spot[] {
  if (table === null) return [];
  const headings = readHeadings(table);
  const column = (means: "latitude" | "longitude"): number =>
    headings.find((heading) => heading.means === means)?.column ?? -1;
  const [latitude, longitude] = [column("latitude"), column("longitude")];
  return table.rows.flatMap(({ line, cells, at }): Spot[] => {
    if (at) return [{ line, at: [at[0], at[1]] }];
    const [lat, lon] = [numberIn(cells[latitude]), numberIn(cells[longitude])];
    return Math.abs(lat) <= 90 && Math.abs(lon) <= 180 ? [{ line, at: [lon, lat] }] : [];
  });
}

const numberIn = (cell: string | undefined): number =>
  cell === undefined || cell.trim() === "" ? Number.NaN : Number(cell);
