import { rateAtHours } from "../../capacity/index.ts";
import type { Notice } from "../../errors/index.ts";
import type { Plan, PlanSplit } from "../document/document-types.ts";
import type { FieldProducts } from "../document/field-products.ts";
import { rigFigures } from "../rig/rig-figures.ts";
import { fullLoadLines } from "../rig/rig-load.ts";

export interface StripCap {
  /** lb of all products together per acre; Infinity without a cap. */
  readonly lbPerAc: number;
  readonly basis: "field-mean" | "most-in-a-cell";
  readonly notices: readonly Notice[];
}

/** A common share and the least cost know no cap but a mean, per acre. */
export const knowsMeanOnly = ({ method }: PlanSplit): boolean => method === "share" || method === "optimum";

/**
 * What the cap limits: a cap found by acres a day, of a common share or of the least cost is a mean, whatever `capBasis`
 * says for the other ways to split.
 */
export const capBasisOf = (split: PlanSplit): StripCap["basis"] =>
  split.acresPerDay !== undefined || knowsMeanOnly(split) ? "field-mean" : split.capBasis;

/**
 * The cap as typed, or the mean rate at which the rig still does so many acres a day: both lines are straight in the rate.
 * `meanFullLbPerAc`: by bin in the order of the plan's bins; the hoppers run empty in that proportion.
 * Throws `rig-not-told` where acres a day are wanted of a rig that is not told.
 */
export function stripCap(plan: Plan, laid: FieldProducts, meanFullLbPerAc: readonly number[]): StripCap {
  const { split } = plan;
  const basis = capBasisOf(split);
  if (split.acresPerDay === undefined)
    return { lbPerAc: split.capLbPerAc, basis, notices: meanForEveryPlace(split) };
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

function meanForEveryPlace(split: PlanSplit): Notice[] {
  const isFree = split.method === "optimum" && split.optimum?.capHolds === false;
  if (split.capBasis === capBasisOf(split) || isFree) return [];
  const way = split.method === "share" ? "a common share" : "the least cost";
  return [
    {
      code: "cap-taken-as-mean",
      message: `the cap is to hold at every place, but ${way} holds it as the field's mean: places may get more than ${split.capLbPerAc} lb/ac; a common ceiling or priorities hold it everywhere`,
      where: "split.method",
    },
  ];
}
