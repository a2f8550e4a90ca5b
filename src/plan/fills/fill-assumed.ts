import { operationsDefault } from "../../capacity/index.ts";
import { ASSUMED_TURN_RADIUS_M } from "../../strips/index.ts";
import { M_PER_FT } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { AssumedFigure, RigFigures } from "../rig/rig-figures.ts";
import { type FieldWorkRate, HEADLAND_MPH } from "./field-work-rate.ts";

/** Minutes to fold, drive and load the map; no source was found. */
export const FIELD_CHANGE_MINUTES = 30;
/** Our inference; none is shown beside it. */
export const PERSISTENCE: number = operationsDefault("persistence").value;

const NO_SOURCE = "no published figure was found; type your own";

const unconfirmed = (key: string, value: number, unit: string, source = NO_SOURCE): AssumedFigure => ({
  key,
  value,
  unit,
  status: "unconfirmed",
  source,
});

/** What a fill plan takes for want of a typed figure. Where turns come from the passes no turn efficiency is used. */
export function fillAssumed(plan: Plan, rig: RigFigures, workRate: FieldWorkRate): AssumedFigure[] {
  const { meterErrorShare, headlandMph } = plan.fills ?? {};
  const byPasses = workRate.by === "passes";
  return [
    ...rig.assumed.filter(
      ({ key }) =>
        !(byPasses && key === "rig.work.turnEfficiency") &&
        !(key === "rig.work.reserveShare" && (meterErrorShare ?? 0) > rig.reserveShare),
    ),
    ...(headlandMph === undefined ? [unconfirmed("fills.headlandMph", HEADLAND_MPH, "mph")] : []),
    ...(byPasses && plan.rig.turnRadiusFt === undefined
      ? [
          unconfirmed(
            "rig.turnRadiusFt",
            ASSUMED_TURN_RADIUS_M / M_PER_FT,
            "ft",
            "ours: a common tractor with a mounted implement",
          ),
        ]
      : []),
  ];
}

/** What the season takes for want of a typed figure. */
export function seasonAssumed({ season }: Plan): AssumedFigure[] {
  const persistence = operationsDefault("persistence");
  return [
    ...(season?.fieldChangeMinutes === undefined
      ? [unconfirmed("season.fieldChangeMinutes", FIELD_CHANGE_MINUTES, "min")]
      : []),
    ...(season?.persistence === undefined ? [{ ...persistence, key: "season.persistence" }] : []),
    ...(season?.leadDays === undefined && (season?.planters?.length ?? 0) > 0
      ? [unconfirmed("season.leadDays", 1, "workable days", "a grower's report of about 24 hours")]
      : []),
  ];
}
