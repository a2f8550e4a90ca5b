import { meterFlow } from "../capacity/index.ts";
import { type Plan, rigWidthM } from "../plan/index.ts";
import { M_PER_FT } from "../units/index.ts";

/** Pounds a minute from all rows at a rate, and from one of them. */
export function catchTest(
  plan: Plan,
  rateLbPerAc: number,
  speedMph: number,
): { readonly allRowsLb: number; readonly oneRowLb: number } {
  const allRowsLb = meterFlow(rateLbPerAc, rigWidthM(plan) / M_PER_FT, speedMph);
  return { allRowsLb, oneRowLb: allRowsLb / plan.rig.rows };
}

/** mph, where the plan names no working speed. */
const USUAL_SPEEDS: readonly number[] = [5, 6, 7];

/** Speeds to catch at, mph: the plan's working speed with one less and one more, else three usual ones. */
export function catchSpeeds({ rig }: Plan): readonly number[] {
  const mph = rig.work?.mph;
  return mph === undefined ? USUAL_SPEEDS : [mph - 1, mph, mph + 1].filter((one) => one > 0);
}
