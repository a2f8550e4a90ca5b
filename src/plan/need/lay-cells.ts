import { boundingGrid, cellAreas } from "../../geo/index.ts";
import type { CheckedField, FieldGrid } from "../results/result-types.ts";

/** Cells below this part of a square metre are crumbs of rounding, not ground; they carry no rate. */
const LEAST_M2 = 0.001;

/** Lay cells over the field, edges on multiples of `cellM` in its frame, each with its area inside. */
export function layCells(checked: CheckedField, cellM: number): FieldGrid {
  const grid = boundingGrid(checked.boundary, cellM);
  const areaM2 = cellAreas(checked.boundary, grid).map((area) => (area < LEAST_M2 ? 0 : area));
  return { grid, areaM2 };
}
