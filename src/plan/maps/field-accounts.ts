import type { Notice } from "../../errors/index.ts";
import type { BalanceSheet } from "../../need/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { alsoWanted } from "../need/also-wanted.ts";
import type { Work } from "../need/ask-field.ts";
import { noSetbacks } from "../need/lay-exclusions.ts";
import { shownTests } from "../need/soil-facts.ts";
import { cropYearOf } from "../need/wanted-field.ts";
import { yieldOverCells } from "../need/yield-over-cells.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import type { RidingMicronutrient } from "../results/field-care.ts";
import type { CheckedField, FieldGrid, FieldResult } from "../results/result-types.ts";
import { cropRemoval, fieldBalanceSheet } from "./field-balance-sheet.ts";

/** What the placed pounds mean for the soil, and what came along. The sheet is worked out when it is first asked for. */
export function fieldAccounts(
  { plan, inputs }: Work,
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  passes: Pieces,
  swaths: Pieces,
  rated: readonly Prescription[],
  riding: readonly RidingMicronutrient[],
): Pick<FieldResult, "yields" | "alsoWanted" | "shownTests"> & { readonly sheet: () => BalanceSheet } {
  const cropYear = cropYearOf(plan);
  const { ownGuides = [], guides = [] } = plan;
  const yields = yieldOverCells(field, checked, cells, inputs);
  const placed = rated.map((map) => ({ map, ground: map.pass === "strip" ? passes : swaths }));
  let sheet: BalanceSheet | null = null;
  return {
    yields,
    sheet: () => {
      sheet ??= fieldBalanceSheet(field, ownGuides, guides, cropYear, cells, yields, placed);
      return sheet;
    },
    alsoWanted: alsoWanted(field, checked.areaAc, cropYear, rated, riding),
    shownTests: shownTests(checked),
  };
}

/** lb oxide/ac that the field's own crop takes, when it is asked for. */
export function removalIn(
  { plan, inputs }: Work,
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
): (nutrient: Oxide) => number | Float64Array | undefined {
  const { ownGuides = [], guides = [] } = plan;
  return (nutrient) =>
    cropRemoval(field, nutrient, ownGuides, guides, yieldOverCells(field, checked, cells, inputs));
}

/** What a plan says of itself as a whole. */
export function planNotices(plan: Plan, results: readonly FieldResult[]): Notice[] {
  const exclusions = plan.exclusions ?? [];
  if (exclusions.length === 0) return [noSetbacks];
  if (results.length < plan.fields.length) return [];
  return exclusions
    .filter(({ what }) => !results.some((one) => one.excluded.places.some((place) => place.what === what)))
    .map(({ what, source }) => ({
      code: "exclusion-in-no-field",
      message: `${source ?? "drawn"}: the exclusion “${what}” reaches no field of the plan`,
      where: "exclusions",
    }));
}
