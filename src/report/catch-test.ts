import type { Plan } from "../plan/index.ts";
import { M_PER_FT } from "../units/index.ts";
import { passWidthM } from "./drawn-field.ts";

/** Feet a minute in 1 mph is 88, so acres a minute are width x mph / 495. */
const FT2_PER_AC = 43_560;
const FT_PER_MIN_PER_MPH = 88;

/** Pounds a minute from all rows at a rate, and from one of them. The plan has no speed: the sheet gives three. */
export function catchTest(
  plan: Plan,
  rateLbPerAc: number,
  speedMph: number,
): { readonly allRowsLb: number; readonly oneRowLb: number } {
  const widthFt = passWidthM(plan) / M_PER_FT;
  const allRowsLb = (rateLbPerAc * widthFt * speedMph * FT_PER_MIN_PER_MPH) / FT2_PER_AC;
  return { allRowsLb, oneRowLb: allRowsLb / plan.rig.rows };
}

/** mph. */
export const CATCH_SPEEDS: readonly number[] = [5, 6, 7];
