import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import proj4 from "proj4";
import type { Samples, VariogramModel } from "../../src/interpolate/index.ts";

export type Row = Readonly<Record<string, string>>;

/** Rows of a plain CSV under tests/data, keyed by column. */
export function table(path: string): Row[] {
  const text = readFileSync(resolve(import.meta.dirname, "../data", path), "utf8");
  const [head, ...lines] = text.trimEnd().split("\n");
  const columns = head!.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(columns.map((column, i) => [column, cells[i]!]));
  });
}

/** One numeric column. */
export function column(rows: readonly Row[], name: string): Float64Array<ArrayBuffer> {
  return Float64Array.from(rows, (row) => {
    const text = row[name];
    if (text === undefined) throw new Error(`no column ${name}`);
    return Number(text);
  });
}

export function largestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length !== b.length) throw new Error(`${a.length} against ${b.length} values`);
  let most = 0;
  for (let i = 0; i < a.length; i++) {
    const difference = Math.abs(a[i]! - b[i]!);
    if (!(difference <= most)) most = difference;
  }
  return most;
}

export function largestRelativeDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  return largestDifference(
    Array.from(a, (v, i) => v / b[i]!),
    Array.from(a, () => 1),
  );
}

/** ln zinc at the 155 Meuse samples. */
export function meuse(name = "zinc", scale: (v: number) => number = Math.log): Samples {
  const rows = table("meuse/meuse.csv");
  return { x: column(rows, "x"), y: column(rows, "y"), value: column(rows, name).map(scale) };
}

const TYPES = { Sph: "spherical", Exp: "exponential", Gau: "gaussian", Mat: "matern" } as const;

export function structureType(short: string): (typeof TYPES)[keyof typeof TYPES] {
  return TYPES[short as keyof typeof TYPES];
}

/** The fixed models of meuse/models.csv by id. */
export function meuseModels(): Map<string, VariogramModel> {
  return new Map(
    table("meuse/models.csv").map((row) => {
      const type = structureType(row.model!);
      const structure = { type, partialSill: Number(row.psill), range: Number(row.range) };
      const ratio = Number(row.anis_ratio);
      return [
        row.id!,
        {
          nugget: Number(row.nugget),
          structures: [type === "matern" ? { ...structure, kappa: Number(row.kappa) } : structure],
          ...(ratio === 1 ? {} : { anisotropy: { angleDeg: Number(row.anis_angle), ratio } }),
        },
      ];
    }),
  );
}

/** A nested spherical model from rows with component (Nug or Sph), psill, range. */
export function nestedModel(rows: readonly Row[]): VariogramModel {
  return {
    nugget: Number(rows.find((row) => row.component === "Nug")!.psill),
    structures: rows
      .filter((row) => row.component === "Sph")
      .map((row) => ({ type: "spherical", partialSill: Number(row.psill), range: Number(row.range) })),
  };
}

const FRAME = "+proj=tmerc +lat_0=41.3 +lon_0=-94.9 +k=1 +x_0=0 +y_0=0 +datum=WGS84";
const OXFORD_COLUMNS: Record<string, string> = { P: "P_ppm", K: "K_ppm", CEC: "CEC_meq_100g" };

/** P, K or CEC of the 126 Oxford samples, from longitude and latitude: samples-local.csv is rounded to 1e-6 m. */
export function oxford(test: string): Samples {
  const rows = table("oxford/samples.csv");
  const plane = rows.map((row) => proj4(FRAME, [Number(row.lon), Number(row.lat)]));
  return {
    x: Float64Array.from(plane, (p) => p[0]!),
    y: Float64Array.from(plane, (p) => p[1]!),
    value: column(rows, OXFORD_COLUMNS[test]!),
  };
}

/** Sample standard deviation. */
export function sd(values: ArrayLike<number>): number {
  const list = Array.from(values);
  const mean = list.reduce((a, b) => a + b, 0) / list.length;
  return Math.sqrt(list.reduce((a, b) => a + (b - mean) ** 2, 0) / (list.length - 1));
}
