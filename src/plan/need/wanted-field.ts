import type { Notice } from "../../errors/index.ts";
import { type Credit, type CropYear, needAfterCredits, withoutRepeats } from "../../need/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import { onCells, sumOver } from "../results/field-sums.ts";
import type { Excluded, MeantGaps, Wanted, WantedParts } from "../results/need-result-types.ts";
import type { FieldGrid, NeedMap } from "../results/result-types.ts";
import { type BudgetCut, spends } from "./spend-budget.ts";

/** The year in which credits count: as typed, or from 1 September before the season to 31 August in it (ours). */
export const cropYearOf = (plan: Plan): CropYear =>
  plan.cropYear ?? { from: `${plan.seasonYear - 1}-09-01`, to: `${plan.seasonYear}-08-31` };

/**
 * What strip and broadcast together are to bring: the need less credits, within minimum and maximum rate, within the
 * budget, and nothing on ground that both methods are kept off. The need itself stays; each step's pounds are named.
 */
export function wantedField(
  field: PlanField,
  cropYear: CropYear,
  cells: FieldGrid,
  need: NeedMap,
  excluded: Excluded,
  cut: BudgetCut | null,
): Wanted {
  const P2O5 = wantedOxide("P2O5", field, cropYear, cells, need, excluded, cut);
  const K2O = wantedOxide("K2O", field, cropYear, cells, need, excluded, cut);
  return {
    p2o5LbPerAc: P2O5.lbPerAc,
    k2oLbPerAc: K2O.lbPerAc,
    P2O5: P2O5.parts,
    K2O: K2O.parts,
    meant: { P2O5: P2O5.meant, K2O: K2O.meant },
    notices: withoutRepeats([...P2O5.notices, ...K2O.notices]).map((notice) => ({
      ...notice,
      where: `${field.id}: ${notice.where}`,
    })),
  };
}

/** The credits of a field as the need takes them; what a credit does not name it does not bring. */
export const creditsOf = (field: PlanField): Credit[] =>
  (field.credits ?? []).map(({ name, kind, date, lbPerAc }) => ({
    name,
    kind,
    date,
    p2o5LbPerAc: lbPerAc.P2O5 ?? 0,
    k2oLbPerAc: lbPerAc.K2O ?? 0,
  }));

function wantedOxide(
  nutrient: Oxide,
  field: PlanField,
  cropYear: CropYear,
  cells: FieldGrid,
  need: NeedMap,
  excluded: Excluded,
  cut: BudgetCut | null,
): { lbPerAc: Float64Array; parts: WantedParts; meant: MeantGaps; notices: Notice[] } {
  const needed = ratesOf(need, nutrient);
  const credited = needAfterCredits(nutrient, needed, creditsOf(field), cropYear);
  const beyond = credited.beyondNeedLbPerAc;
  const limits = field.nutrients?.[nutrient] ?? {};
  const limited = credited.lbPerAc.map((rate) => withinLimits(rate, limits));
  const { priority } = need[nutrient];
  const affordable = limited.map((rate, cell) => rate * spends(cut, priority[cell]!));
  const wanted = affordable.map((rate, cell) => rate * (1 - excluded.both[cell]!));
  const over = (lbPerAc: (cell: number) => number) => sumOver(cells, lbPerAc);
  // What nobody asked for changes no cell: it is not summed over all of them.
  const overIf = (isAsked: boolean, lbPerAc: (cell: number) => number) => (isAsked ? over(lbPerAc) : 0);
  const isLimited = limits.minLbPerAc !== undefined || limits.maxLbPerAc !== undefined;
  const hasCredits = (field.credits ?? []).length > 0;
  const after = credited.lbPerAc;
  const minimum = limits.minLbPerAc ?? 0;
  const leavesOut = limits.belowMinimum === "leave-out";
  const creditsBeyondNeedLb = overIf(hasCredits, (cell) => beyond[cell]!);
  const raisedLb = overIf(isLimited, (cell) => Math.max(0, limited[cell]! - after[cell]!));
  const excludedLb = over((cell) => affordable[cell]! - wanted[cell]!);
  const isTakenOff = isLimited || cut !== null || excludedLb > 0;
  return {
    lbPerAc: wanted,
    notices: [...credited.notices],
    meant: {
      shortLb: isTakenOff
        ? onCells(
            cells,
            (cell) => Math.max(0, after[cell]! - limited[cell]!) + limited[cell]! - wanted[cell]!,
          )
        : null,
      overLb:
        creditsBeyondNeedLb + raisedLb > 0
          ? onCells(cells, (cell) => Math.max(0, limited[cell]! - after[cell]!) + beyond[cell]!)
          : null,
    },
    parts: {
      wantedLb: over((cell) => wanted[cell]!),
      creditsLb: overIf(hasCredits, (cell) => needed[cell]! - after[cell]! + beyond[cell]!),
      creditsBeyondNeedLb,
      overMaximumLb: overIf(isLimited, (cell) =>
        isLeftOut(after[cell]!, minimum, leavesOut) ? 0 : Math.max(0, after[cell]! - limited[cell]!),
      ),
      leftOutLb: overIf(isLimited, (cell) =>
        isLeftOut(after[cell]!, minimum, leavesOut) ? after[cell]! : 0,
      ),
      raisedLb,
      overBudgetLb: overIf(cut !== null, (cell) => limited[cell]! - affordable[cell]!),
      excludedLb,
    },
  };
}

const isLeftOut = (rate: number, minimum: number, leavesOut: boolean): boolean =>
  leavesOut && rate > 0 && rate < minimum;

/** A rate within its limits; nothing stays nothing. The maximum goes before the minimum. */
export function withinLimits(
  rate: number,
  limits: {
    readonly minLbPerAc?: number;
    readonly maxLbPerAc?: number;
    readonly belowMinimum?: "raise" | "leave-out";
  },
): number {
  const { minLbPerAc: least = 0, maxLbPerAc: most = Number.POSITIVE_INFINITY, belowMinimum } = limits;
  if (!(rate > 0)) return rate;
  if (rate >= least) return Math.min(rate, most);
  return belowMinimum === "leave-out" ? 0 : Math.min(least, most);
}
