import { workRate, workRateFromPasses } from "../../capacity/index.ts";
import { FT_PER_MILE, M_PER_FT } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import type { WorkedPass } from "./worked-passes.ts";

/** mph on the headland, to turn and to drive to a tender; no source was found. */
export const HEADLAND_MPH = 4;

/** How fast a field is worked, and how that is known. */
export interface FieldWorkRate {
  readonly acPerHour: number;
  /** `typed`: the plan's turn efficiency. `passes`: turns between the passes as they lie; nothing counted twice. */
  readonly by: "typed" | "passes";
  /** Hours of all turns and ways along the headland; 0 where the efficiency is typed. */
  readonly turnHours: number;
}

/** Acres an hour at work in a field, filling left out. */
export function fieldWorkRate(plan: Plan, rig: RigFigures, passes: readonly WorkedPass[]): FieldWorkRate {
  if (plan.rig.work?.turnEfficiency !== undefined)
    return { acPerHour: workRate(rig.work), by: "typed", turnHours: 0 };
  const mph = plan.fills?.headlandMph ?? HEADLAND_MPH;
  const wayM = passes.reduce((sum, pass) => sum + pass.wayBeforeM, 0);
  const turnHours = wayM / M_PER_FT / (FT_PER_MILE * mph);
  const { acPerHour } = workRateFromPasses({
    passFt: passes.map((pass) => pass.lengthM / M_PER_FT),
    areaAc: passes.reduce((sum, pass) => sum + pass.areaAc, 0),
    widthFt: rig.work.widthFt,
    mph: rig.work.mph,
    minutesPerTurn: 0,
    otherHours: turnHours,
  });
  return { acPerHour, by: "passes", turnHours };
}
