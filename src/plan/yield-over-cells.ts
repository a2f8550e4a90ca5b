import { cellAreas } from "../geo/index.ts";
import type { PlanField } from "./document-types.ts";
import { fieldZones, zoneNumber } from "./field-zones.ts";
import type { Inputs } from "./read-sources.ts";
import type { CheckedField, FieldGrid } from "./result-types.ts";

/**
 * The field's yield goal, bu/ac: one number, or one a cell where the plan names yield zones. A cell in several zones
 * takes their mean by area; ground in none has the field's own goal. Throws what `fieldZones` and `zoneNumber` throw.
 */
export function yieldOverCells(
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): number | Float64Array {
  if (field.yieldZones === undefined) return field.yieldBuPerAc;
  const { source, column } = field.yieldZones;
  const { layers } = inputs.file(source);
  const weighted = new Float64Array(cells.areaM2.length);
  const covered = new Float64Array(cells.areaM2.length);
  for (const zone of fieldZones(source, layers, column, checked.boundary, checked.frame.toPlane)) {
    const bushels = zoneNumber(source, column, zone);
    cellAreas(zone.ground, cells.grid).forEach((areaM2, cell) => {
      weighted[cell]! += bushels * areaM2;
      covered[cell]! += areaM2;
    });
  }
  return cells.areaM2.map((areaM2, cell) => {
    const rest = Math.max(0, areaM2 - covered[cell]!);
    const ground = covered[cell]! + rest;
    return ground > 0 ? (weighted[cell]! + field.yieldBuPerAc * rest) / ground : field.yieldBuPerAc;
  });
}
