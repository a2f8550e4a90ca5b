import type { Notice } from "../../errors/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { Split } from "../results/split-result-types.ts";

/** Inches between rows that planters are built for lie between these (common practice); others are doubted. */
const USUAL_SPACING_IN: readonly [least: number, most: number] = [10, 60];

/** A row spacing that is hardly one: typed in another unit, or with a figure too many. */
export function rigDoubts({ rig }: Plan): Notice[] {
  const [least, most] = USUAL_SPACING_IN;
  if (rig.rowSpacingIn >= least && rig.rowSpacingIn <= most) return [];
  const message = `rows ${rig.rowSpacingIn} in. apart are unusual, they lie ${least} to ${most} in. apart; width, passes and acres a day follow it`;
  return [{ code: "row-spacing-unusual", message, where: "rig.rowSpacingIn" }];
}

/**
 * Maps that are hardly meant: steps as large as the highest rate they round, and a broadcast map
 * of less than half a step of the spreader over the field, which is a trip for next to nothing.
 */
export function rateDoubts(
  plan: Plan,
  field: PlanField,
  split: Split,
  prescriptions: readonly Prescription[],
  areaAc: number,
): Notice[] {
  const step = plan.rig.rateStepLbPerAc;
  const coarse = split.products.flatMap(({ product, strip }): Notice[] => {
    const highest = strip.reduce((most, rate) => Math.max(most, rate || 0), 0);
    if (highest === 0 || step < highest) return [];
    const message = `${field.name}: strip rates in steps of ${step} lb/ac are as large as the rates of ${product}, which go up to ${highest.toFixed(0)} lb/ac; the balance tells what it makes short and over`;
    return [{ code: "step-coarse", message, where: field.id }];
  });
  const least = (plan.spreader.rateStepLbPerAc / 2) * areaAc;
  const little = prescriptions.flatMap(({ pass, product, totalLb }): Notice[] => {
    if (pass !== "broadcast" || totalLb === 0 || totalLb >= least) return [];
    const message = `${field.name}: the broadcast map of ${product} is ${totalLb.toFixed(0)} lb on ${areaAc.toFixed(1)} ac, less than half a step of the spreader over the field: is it worth the trip?`;
    return [{ code: "broadcast-little", message, where: field.id }];
  });
  return [...coarse, ...little];
}
