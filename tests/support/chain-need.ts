import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { gunzipSync } from "node:zlib";
import { sum } from "../../src/numeric/index.ts";
import { acres } from "../../src/units/index.ts";

// tests/data/chain-need: made in R from the gstat data set oxford; sources and licence in its README.
const folder = resolve(import.meta.dirname, "../data/chain-need");
const lines = gunzipSync(readFileSync(resolve(folder, "cells.csv.gz")))
  .toString("utf8")
  .trim()
  .split("\n");
const headings = lines[0]!.split(",");
const rows = lines.slice(1).map((line) => line.split(",").map(Number));

/** A column of the 12,472 cells. */
export function column(name: string): Float64Array {
  const at = headings.indexOf(name);
  if (at < 0) throw new Error(`no column ${name}`);
  return Float64Array.from(rows, (row) => row[at]!);
}

export const areaM2: Float64Array = column("area_m2");

/** Pounds on the field: rates in lb/ac times acres. */
export const fieldLb = (lbPerAc: Float64Array): number =>
  sum(lbPerAc.map((rate, i) => rate * acres(areaM2[i]!)));

export interface SplitTotals {
  readonly ceiling_lb_ac?: number | "Inf";
  readonly MAP: { readonly total_lb: number; readonly strip_lb: number; readonly broadcast_lb: number };
  readonly potash: { readonly total_lb: number; readonly strip_lb: number; readonly broadcast_lb: number };
  readonly N_lb_with_MAP: number;
  readonly mean_strip_lb_ac: number;
  readonly max_strip_lb_ac: number;
  readonly acres_broadcast: number;
}
type Splits = Readonly<
  Record<"mean_cap" | "cell_cap" | "mean_cap_MAP_first" | "cell_cap_MAP_first", SplitTotals>
>;
interface NeedTotals {
  readonly lb: number;
  readonly min: number;
  readonly max: number;
  readonly acres_zero: number;
}
export interface GuideTotals {
  readonly P2O5: NeedTotals;
  readonly K2O: NeedTotals;
  readonly products: Splits;
  readonly products_cap_250: Splits;
}
interface Totals {
  readonly soybean: Readonly<
    Record<"ok_fixed" | "ok_averaged", Readonly<Record<"equations_2020" | "table_T", GuideTotals>>>
  >;
  readonly classes_T: { readonly ok_fixed: Readonly<Record<"P" | "K", Readonly<Record<string, number>>>> };
}
export const totals: Totals = JSON.parse(readFileSync(resolve(folder, "totals.json"), "utf8"));
export const exampleB2 = JSON.parse(readFileSync(resolve(folder, "example-b2.json"), "utf8")) as {
  readonly inputs: {
    readonly zones: readonly { readonly ac: number; readonly needP2O5: number; readonly needK2O: number }[];
    readonly meanStripRate: number;
  };
  readonly expected: {
    readonly meanFull: number;
    readonly ceiling: { readonly ceiling: number; readonly rates: readonly number[] };
  };
};
