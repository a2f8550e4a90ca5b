import {
  ASSUMED_RESPONSE_S,
  ASSUMED_SPEED_M_PER_S,
  ASSUMED_TURN_RADIUS_M,
  shortestStretchM,
} from "../../strips/index.ts";
import { M_PER_S_PER_MPH, metresFromFeet } from "../../units/index.ts";
import type { PlanField, PlanRig } from "../document/document-types.ts";
import { rigWidthM } from "./rig-width.ts";

/** A rig's way of driving with what is assumed filled in; metres and seconds. */
interface RigDrive {
  readonly widthM: number;
  readonly turnRadiusM: number;
  readonly speedMPerS: number;
  readonly responseS: number;
  /** Null where every segment has a rate of its own. */
  readonly shortestStretchM: number | null;
  readonly leadM: number;
  readonly onDelayM: number;
  readonly offDelayM: number;
}

export function rigDrive(rig: PlanRig): RigDrive {
  const speedMPerS = rig.work ? rig.work.mph * M_PER_S_PER_MPH : ASSUMED_SPEED_M_PER_S;
  const responseS = rig.responseS ?? ASSUMED_RESPONSE_S;
  const shortest =
    rig.shortestStretchFt === undefined
      ? shortestStretchM({ speedMPerS, responseS })
      : metresFromFeet(rig.shortestStretchFt);
  return {
    widthM: rigWidthM({ rig }),
    turnRadiusM: rig.turnRadiusFt === undefined ? ASSUMED_TURN_RADIUS_M : metresFromFeet(rig.turnRadiusFt),
    speedMPerS,
    responseS,
    shortestStretchM: rig.rates === "stretches" ? shortest : null,
    leadM: (rig.leadS ?? 0) * speedMPerS,
    onDelayM: (rig.sections?.onDelayS ?? 0) * speedMPerS,
    offDelayM: (rig.sections?.offDelayS ?? 0) * speedMPerS,
  };
}

/** Miles an hour of the plan, or assumed. */
export const mphOf = (rig: PlanRig): number => rigDrive(rig).speedMPerS / M_PER_S_PER_MPH;

export const headlandPassesOf = (rig: PlanRig, field: PlanField): number =>
  field.headlandPasses ?? rig.headlandPasses ?? 0;
