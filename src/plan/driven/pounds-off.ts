import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { AppliedField } from "./applied-types.ts";

/** Pounds over the planned by which something else than the meter may be behind it (common practice). */
const MUCH_OFF = 0.2;

/** Times the planned from which pounds are no matter of rates any more (ours). */
const SEVERAL_TIMES = 2;

/** Pounds without a log that are far from the map's: at several times them somebody looks for the slip first. */
export function poundsOff(
  { field, prescriptions, passes }: FieldResult,
  { product, lb, stem, plannedLb }: AppliedField["byPounds"][number],
  covered: Float64Array | null,
): Notice[] {
  const where = field.id;
  const { rateLbPerAc } = prescriptions.find((map) => map.stem === stem)!;
  const coveredLb =
    covered === null ? plannedLb : sum(passes.areaAc.map((ac, k) => ac * covered[k]! * rateLbPerAc[k]!));
  const mapLb = coveredLb > 0 ? coveredLb : plannedLb;
  const times = lb / mapLb;
  if (Math.abs(times - 1) <= MUCH_OFF) return [];
  const there = covered === null ? "" : " on the ground that the logs cover";
  const spread =
    covered === null
      ? "without a log they are spread over the whole field in proportion to the map (where the plan was changed after the pass, give the build from before as PLAN)"
      : "without a log of its own it is laid there in proportion to the map";
  if (times < SEVERAL_TIMES) {
    const wrong = covered === null ? ", which is wrong where part of it was not worked" : "";
    const message = `${product}: ${numberText(lb, 0)} lb went out and the map has ${numberText(mapLb, 0)}${there}; ${spread}${wrong}`;
    return [{ code: "pounds-not-as-planned", message, where }];
  }
  const message =
    `${product}: ${numberText(lb, 0)} LB WENT OUT, ${numberText(times, 1)} TIMES THE MAP'S ${numberText(mapLb, 0)} LB${there}; ` +
    `look for a ticket that is mistyped or entered twice, or of other fields; ${spread}`;
  return [{ code: "pounds-beyond-map", message, where }];
}
