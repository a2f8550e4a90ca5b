import { sum } from "../numeric/index.ts";
import { FT_PER_MILE, FT2_PER_AC } from "../units/index.ts";
import { requireNumber } from "./require-number.ts";
import { FT_MPH_HOURS_PER_AC } from "./rig.ts";

/** Ends of the field the tender can be reached from. */
export type RefillEnds = "one-end" | "both-ends";

/** lb of one pass at a constant rate. */
export const passLoad = (passFt: number, widthFt: number, rateLbPerAc: number): number =>
  ((passFt * widthFt) / FT2_PER_AC) * rateLbPerAc;

/**
 * lb of a load that count when the rig fills only at ends of equal passes: whole passes, or pairs of passes
 * when the tender stands at one end. 0 when a load does not last one pass (or one pair).
 */
export function wholePassLoad(loadLb: number, passLb: number, ends: RefillEnds): number {
  requireNumber("passLb", passLb, { above: 0 });
  const unit = ends === "one-end" ? 2 * passLb : passLb;
  return unit * Math.floor(requireNumber("loadLb", loadLb) / unit);
}

/** Work on passes of one length. */
export interface PassWork {
  /** ac/h with the turns of these passes in it. */
  readonly acPerHour: number;
  /** Share of the theoretical rate that is left: use it as `turnEfficiency`, in place of a general figure. */
  readonly turnEfficiency: number;
  readonly workHours: number;
  readonly turnHours: number;
}

/**
 * Work rate from the passes themselves: time along them plus one turn between neighbours. `areaAc` is the land
 * worked; part-width passes therefore lower the efficiency as they should. Only `otherHours` (small stops) is
 * outside passes and turns; no filling.
 */
export function workRateFromPasses(input: {
  readonly passFt: readonly number[];
  readonly areaAc: number;
  readonly widthFt: number;
  readonly mph: number;
  readonly minutesPerTurn: number;
  readonly otherHours?: number;
}): PassWork {
  const { passFt, areaAc, widthFt, mph, minutesPerTurn, otherHours = 0 } = input;
  requireNumber("areaAc", areaAc, { above: 0 });
  requireNumber("widthFt", widthFt, { above: 0 });
  requireNumber("mph", mph, { above: 0 });
  const workHours =
    requireNumber("the length of the passes", sum(passFt), { above: 0 }) / (FT_PER_MILE * mph);
  const turnHours = (Math.max(0, passFt.length - 1) * requireNumber("minutesPerTurn", minutesPerTurn)) / 60;
  const acPerHour = areaAc / (workHours + turnHours + requireNumber("otherHours", otherHours));
  return {
    acPerHour,
    turnEfficiency: acPerHour / ((widthFt * mph) / FT_MPH_HOURS_PER_AC),
    workHours,
    turnHours,
  };
}
