import { meterFlow } from "../capacity/index.ts";
import type { Plan } from "../plan/index.ts";
import { M_PER_FT } from "../units/index.ts";
import { passWidthM } from "./drawn-field.ts";

/** Pounds a minute from all rows at a rate, and from one of them. The plan has no speed: the sheet gives three. */
export function catchTest(
  plan: Plan,
  rateLbPerAc: number,
  speedMph: number,
): { readonly allRowsLb: number; readonly oneRowLb: number } {
  const allRowsLb = meterFlow(rateLbPerAc, passWidthM(plan) / M_PER_FT, speedMph);
  return { allRowsLb, oneRowLb: allRowsLb / plan.rig.rows };
}

/** mph. */
export const CATCH_SPEEDS: readonly number[] = [5, 6, 7];
