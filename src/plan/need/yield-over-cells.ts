import { InputError, type Notice } from "../../errors/index.ts";
import { cellAreas } from "../../geo/index.ts";
import { acres, numberText } from "../../units/index.ts";
import type { PlanField } from "../document/document-types.ts";
import type { CheckedField, FieldGrid } from "../results/result-types.ts";
import { fieldZones } from "../sources/field-zones.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { yieldDoubt } from "./yield-notices.ts";

interface FieldYields {
  /** bu/ac: one number, or one a cell where the plan names yield zones. */
  readonly bushels: number | Float64Array;
  readonly notices: readonly Notice[];
}

/** The field's yield goal as `fieldYields` has it. */
export const yieldOverCells = (
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): number | Float64Array => fieldYields(field, checked, cells, inputs).bushels;

/**
 * The field's yield goals, and what is to be said of those by zone. A cell in several zones takes their mean by area; ground
 * in none has the field's own goal. Throws what `fieldZones` throws and `yield-goal-not-usable`.
 */
export function fieldYields(
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): FieldYields {
  if (field.yieldZones === undefined) return { bushels: field.yieldBuPerAc, notices: [] };
  const { source, column } = field.yieldZones;
  const { layers } = inputs.file(source);
  const weighted = new Float64Array(cells.areaM2.length);
  const covered = new Float64Array(cells.areaM2.length);
  const notices: Notice[] = [];
  const say = (code: string, message: string): void => {
    notices.push({ code, message: `${field.name}: ${message}`, where: field.id });
  };
  const doubted = new Set<number>();
  for (const zone of fieldZones(source, layers, column, checked.boundary, checked.frame.toPlane)) {
    const where = `${source}, record ${zone.record}, column ${column}`;
    const bushels = goalOf(zone.value, where);
    const doubt = yieldDoubt(field.crop, bushels);
    if (doubt !== null && !doubted.has(bushels)) say("yield-goal-unusual", `${where}: ${doubt}`);
    doubted.add(bushels);
    cellAreas(zone.ground, cells.grid).forEach((areaM2, cell) => {
      weighted[cell]! += bushels * areaM2;
      covered[cell]! += areaM2;
    });
  }
  let [gapM2, twiceM2] = [0, 0];
  const bushels = cells.areaM2.map((areaM2, cell) => {
    const rest = Math.max(0, areaM2 - covered[cell]!);
    if (areaM2 > 0) {
      gapM2 += rest;
      twiceM2 += Math.max(0, covered[cell]! - areaM2);
    }
    const ground = covered[cell]! + rest;
    return ground > 0 ? (weighted[cell]! + field.yieldBuPerAc * rest) / ground : field.yieldBuPerAc;
  });
  const text = (areaM2: number): string => `${numberText(acres(areaM2), 1)} ac lie in`;
  if (acres(gapM2) > TOLD_AC) {
    const goal = `the field's goal of ${field.yieldBuPerAc} bu/ac`;
    say("yield-zones-leave-ground", `${text(gapM2)} no yield zone of ${source} and have ${goal}`);
  }
  if (acres(twiceM2) > TOLD_AC)
    say(
      "yield-zones-overlap",
      `${text(twiceM2)} several yield zones of ${source} and have the mean of their goals`,
    );
  return { bushels, notices };
}

/** Acres that are worth a word. */
const TOLD_AC = 0.05;

/** The goal in a zone's column, bu/ac. Throws `yield-goal-not-usable`. */
function goalOf(value: unknown, where: string): number {
  const goal = typeof value === "string" ? Number(value.trim() || Number.NaN) : value;
  if (typeof goal === "number" && Number.isFinite(goal) && goal > 0) return goal;
  const what = `${value ?? ""}`.trim() === "" ? "is empty" : `“${value}” is no yield goal`;
  throw new InputError(
    "yield-goal-not-usable",
    `${where}: ${what}.`,
    "Give each yield zone its goal in bu/ac, a number above 0 alone; ground without a goal of its own needs no zone.",
  );
}
