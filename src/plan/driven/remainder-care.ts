import type { Prescription } from "../../prescription/index.ts";
import type { Plan } from "../document/document-types.ts";
import { careNotices, type FieldCare, fieldCare } from "../results/field-care.ts";
import type { FieldResult } from "../results/result-types.ts";

/**
 * Salt and micronutrients of what is left of a field, by its own maps, on its own ground (`areaAc` of each piece of the passes, 0 where
 * it is worked). What somebody took note of by name holds for maps of the plan's products with no more salt anywhere than the plan's;
 * of others it is told as what it was for, and they want a name of their own.
 */
export function remainderCare(
  plan: Plan,
  field: FieldResult,
  maps: readonly Prescription[],
  areaAc: Float64Array,
): FieldCare {
  const careBy = (by: Plan): FieldCare =>
    fieldCare(
      by,
      field.field,
      field.laid,
      { areaAc, overlaps: field.passes.overlaps },
      maps,
      field.maps.CEC?.estimate,
    );
  const care = careBy(plan);
  const by = plan.seed?.acknowledged?.by;
  const planned = field.prescriptions.filter(({ pass, maxLbPerAc }) => pass === "strip" && maxLbPerAc > 0);
  const products = [...new Set(planned.map(({ product }) => product))];
  const isNoted =
    maps.every(({ product, maxLbPerAc }) => maxLbPerAc === 0 || products.includes(product)) &&
    care.salt.highestLbPerAc <= field.care.salt.highestLbPerAc + 1e-9;
  if (by === undefined || isNoted) return care;
  const { acknowledged: _, ...seed } = plan.seed!;
  const own = careBy({ ...plan, seed });
  const { highestLbPerAc } = field.care.salt;
  return { ...own, salt: { ...own.salt, notedFor: { by, products, highestLbPerAc } } };
}

/** A field's result with the salt and micronutrients of other maps in place of its own, and the notices of them. */
export function withCare(field: FieldResult, care: FieldCare): FieldResult {
  const before = new Set(careNotices(field.field, field.care).map(({ message }) => message));
  const others = field.notices.filter(({ message }) => !before.has(message));
  return { ...field, care, notices: [...others, ...careNotices(field.field, care)] };
}
