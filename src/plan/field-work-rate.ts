import { workRate, workRateFromPasses } from "../capacity/index.ts";
import { ASSUMED_TURN_RADIUS_M, turnBetween } from "../strips/index.ts";
import { M_PER_FT, metresFromInches } from "../units/index.ts";
import type { Plan } from "./document-types.ts";
import type { RigFigures } from "./rig-figures.ts";
import type { WorkedPass } from "./worked-passes.ts";

/** mph on the headland, to turn and to drive to a tender; no source was found. */
export const HEADLAND_MPH = 4;

export interface FieldWorkRate {
  readonly acPerHour: number;
  /** `typed`: the plan's turn efficiency. `passes`: turns between the passes as they lie; nothing counted twice. */
  readonly by: "typed" | "passes";
  readonly turnMinutes: number;
}

/** Acres an hour at work in a field, filling left out. */
export function fieldWorkRate(plan: Plan, rig: RigFigures, passes: readonly WorkedPass[]): FieldWorkRate {
  const mph = plan.fills?.headlandMph ?? HEADLAND_MPH;
  const widthM = plan.rig.rows * metresFromInches(plan.rig.rowSpacingIn);
  const turnM = turnBetween(widthM, ASSUMED_TURN_RADIUS_M).lengthM;
  const turnMinutes = (60 * turnM) / M_PER_FT / (5_280 * mph);
  if (plan.rig.work?.turnEfficiency !== undefined)
    return { acPerHour: workRate(rig.work), by: "typed", turnMinutes };
  const { acPerHour } = workRateFromPasses({
    passFt: passes.map((pass) => pass.lengthM / M_PER_FT),
    areaAc: passes.reduce((sum, pass) => sum + pass.areaAc, 0),
    widthFt: rig.work.widthFt,
    mph: rig.work.mph,
    minutesPerTurn: turnMinutes,
  });
  return { acPerHour, by: "passes", turnMinutes };
}
