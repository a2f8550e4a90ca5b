import { rateAtHours } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";
import type { Plan, PlanSplit } from "./document-types.ts";
import type { FieldProducts } from "./field-products.ts";
import { rigFigures } from "./rig-figures.ts";
import { fullLoadLines } from "./rig-load.ts";

export interface StripCap {
  /** lb of all products together per acre; Infinity without a cap. */
  readonly lbPerAc: number;
  readonly basis: "field-mean" | "most-in-a-cell";
  readonly notices: readonly Notice[];
}

/** What the cap limits: a cap found by acres a day is a mean, whatever the typed one would limit. */
export const capBasisOf = ({ acresPerDay, capBasis }: PlanSplit): StripCap["basis"] =>
  acresPerDay === undefined ? capBasis : "field-mean";

/**
 * The cap as typed, or the mean rate at which the rig still does so many acres a day: both lines are straight in the rate.
 * `meanFullLbPerAc`: by bin in the order of the plan's bins; the hoppers run empty in that proportion.
 * Throws `rig-not-told` where acres a day are wanted of a rig that is not told.
 */
export function stripCap(plan: Plan, laid: FieldProducts, meanFullLbPerAc: readonly number[]): StripCap {
  const { split } = plan;
  const basis = capBasisOf(split);
  if (split.acresPerDay === undefined) return { lbPerAc: split.capLbPerAc, basis, notices: [] };
  const figures = rigFigures(plan, laid);
  const lines = fullLoadLines(figures, meanFullLbPerAc);
  if (lines === null) return { lbPerAc: split.capLbPerAc, basis, notices: [] };
  const rate = rateAtHours(lines, figures.work.hoursPerDay / split.acresPerDay);
  const notices =
    rate >= 0
      ? []
      : [
          {
            code: "acres-a-day-out-of-reach",
            message: `the rig does not do ${split.acresPerDay} ac a day with empty bins: nothing goes in the strip`,
            where: "split.acresPerDay",
          },
        ];
  return { lbPerAc: Math.max(0, rate), basis, notices };
}
