import { elementOf, plainNumber } from "../../agronomy/index.ts";
import { isInCropYear, needAfterCredits } from "../../need/index.ts";
import type { Answers } from "../document/answers.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { Plan } from "../document/document-types.ts";
import { needSlice } from "../document/need-slice.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import type { FieldResult } from "../results/result-types.ts";
import { fieldRule } from "./field-rule.ts";
import { creditsOf, cropYearOf, withinLimits } from "./wanted-field.ts";

/** What one oxide wants at one cell, and why, in words. */
export interface ExplainedCell {
  /** lb oxide/ac that drives the rates there. */
  readonly needLbPerAc: number;
  /** lb oxide/ac that strip and broadcast together are to bring. */
  readonly wantedLbPerAc: number;
  /** Class or range of the guide; empty where no guide was read. */
  readonly band: string;
  /** The arithmetic, one step a line; the guide's at the mapped test, then what the plan makes of it. */
  readonly steps: readonly string[];
}

/** The steps behind a cell of a worked-out field; null off the field. */
export function explainCell(
  plan: Plan,
  result: FieldResult,
  nutrient: Oxide,
  cell: number,
): ExplainedCell | null {
  const { cells, need, wanted } = result;
  if (!(cells.areaM2[cell]! > 0)) return null;
  const needLbPerAc = ratesOf(need, nutrient)[cell]!;
  const wantedLbPerAc = ratesOf(wanted, nutrient)[cell]!;
  const guided = need[nutrient].rule === null ? null : guideSteps(plan, result, nutrient, cell, needLbPerAc);
  const steps = [
    ...(guided?.steps ?? [typedStep(result, nutrient, needLbPerAc)]),
    ...planSteps(plan, result, nutrient, cell, needLbPerAc, wantedLbPerAc),
  ];
  return { needLbPerAc, wantedLbPerAc, band: guided?.band ?? "", steps };
}

function typedStep({ need, field }: FieldResult, nutrient: Oxide, lbPerAc: number): string {
  const from = need.from === "rates" ? "The adviser's own rate" : "A rate typed for the whole field";
  return `${from}: ${plainNumber(lbPerAc)} lb ${nutrient}/ac; no guide was read in ${field.name}.`;
}

function guideSteps(
  plan: Plan,
  result: FieldResult,
  nutrient: Oxide,
  cell: number,
  needLbPerAc: number,
): { readonly band: string; readonly steps: readonly string[] } {
  const { field, checked, maps, yields } = result;
  const settled = result.need[nutrient].rule?.additionCounts ?? null;
  const answers: Answers = settled === null ? {} : { "addition-counts": settled };
  const rule = fieldRule(needSlice(plan, false), field, nutrient, checked, yields, answers);
  const test = maps[elementOf(nutrient)]!.estimate[cell]!;
  const cec = maps.CEC?.estimate[cell] ?? Number.NaN;
  const steps = rule.ready.flatMap((one, i) => {
    const crop = rule.crops[i]!;
    const bushels = typeof crop.yieldBuPerAc === "number" ? crop.yieldBuPerAc : crop.yieldBuPerAc[cell]!;
    const own = [...one.test.steps(test), ...one.rule.steps(one.test.toGuideTest(test), cec, bushels)];
    return rule.ready.length === 1 ? own : own.map((step) => `${crop.crop}: ${step}`);
  });
  if (rule.covered !== undefined) {
    steps.push(
      `An earlier application covers ${nutrient} through ${rule.covered}: nothing is needed in ${plan.seasonYear}.`,
    );
  }
  const atTest = rule.rate(test, cec, cell);
  if (Math.abs(atTest - needLbPerAc) > 0.05) {
    steps.push(
      `The rates are driven by another figure than the mapped test's ${plainNumber(atTest)}: ${plainNumber(needLbPerAc)} lb ${nutrient}/ac.`,
    );
  }
  return { band: rule.first.rule.band(rule.first.test.toGuideTest(test), cec), steps };
}

/** What credits, limits, budget and exclusions make of the need; empty when they change nothing. */
function planSteps(
  plan: Plan,
  result: FieldResult,
  nutrient: Oxide,
  cell: number,
  need: number,
  wanted: number,
): string[] {
  const { field, excluded } = result;
  const cropYear = cropYearOf(plan);
  const steps = creditsOf(field)
    .filter(({ date }) => isInCropYear(cropYear, date))
    .map((credit) => ({
      credit,
      lb: (nutrient === "P2O5" ? credit.p2o5LbPerAc : credit.k2oLbPerAc) as number,
    }))
    .filter(({ lb }) => lb > 0)
    .map(({ credit, lb }) => `${credit.name} of ${credit.date} brings ${plainNumber(lb)} lb ${nutrient}/ac.`);
  const limits = field.nutrients?.[nutrient];
  if (limits?.maxLbPerAc !== undefined)
    steps.push(`At most ${plainNumber(limits.maxLbPerAc)} lb ${nutrient}/ac.`);
  if (limits?.minLbPerAc !== undefined)
    steps.push(`At least ${plainNumber(limits.minLbPerAc)} lb ${nutrient}/ac where any.`);
  if (excluded.both[cell]! > 0)
    steps.push(`${plainNumber(100 * excluded.both[cell]!)} % of this ground gets nothing by any method.`);
  if (plan.budget !== undefined && wanted < withoutBudget(plan, result, nutrient, cell, need) - 0.05)
    steps.push(
      result.need[nutrient].rule === null
        ? "The budget cuts rates that no guide gave alike, after all others."
        : "The budget pays for the lowest tests first.",
    );
  if (Math.abs(wanted - need) > 0.05)
    steps.push(`Strip and broadcast together are to bring ${plainNumber(wanted)} lb ${nutrient}/ac.`);
  return steps;
}

/** lb/ac that a cell is to get by need, credits, limits and exclusions, were there no budget. */
function withoutBudget(
  plan: Plan,
  { field, excluded }: FieldResult,
  nutrient: Oxide,
  cell: number,
  need: number,
): number {
  const at = Float64Array.of(need);
  const [credited] = needAfterCredits(nutrient, at, creditsOf(field), cropYearOf(plan)).lbPerAc;
  return withinLimits(credited!, field.nutrients?.[nutrient] ?? {}) * (1 - excluded.both[cell]!);
}
