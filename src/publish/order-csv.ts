import { writeCsv } from "../formats/index.ts";
import type { RunResult } from "../plan/index.ts";
import { tons } from "../units/index.ts";

/**
 * What to order: a row a field, pass and product, then a row a product for the farm. Rounded to a tenth of a
 * pound and to a thousandth of a ton; every farm row says when fields are missing from it.
 */
export function orderCsv(result: RunResult): Uint8Array {
  const headings = ["product", "pass", "field", "areaAc", "lb", "tons", "note"];
  const rows: (string | number)[][] = [];
  for (const { field, prescriptions } of result.fields) {
    for (const map of prescriptions) {
      const { product, pass, areaAc, totalLb } = map;
      rows.push([
        product,
        pass,
        field.id,
        areaAc.toFixed(2),
        totalLb.toFixed(1),
        tons(totalLb).toFixed(3),
        "",
      ]);
    }
  }
  const note = result.incomplete === "" ? "" : `incomplete: ${result.incomplete}`;
  for (const total of result.totals) {
    const { product, pass, lb } = total;
    rows.push([
      product,
      pass,
      "whole farm",
      result.acres.toFixed(2),
      lb.toFixed(1),
      tons(lb).toFixed(3),
      note,
    ]);
  }
  return writeCsv(headings, rows);
}
