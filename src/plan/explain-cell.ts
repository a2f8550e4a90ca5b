import type { Answers } from "./answers.ts";
import type { Oxide } from "./document-need-types.ts";
import type { Plan } from "./document-types.ts";
import { type ExplainedCrop, type FieldRule, fieldRule } from "./field-rule.ts";
import { needSlice } from "./need-slice.ts";
import type { FieldResult } from "./result-types.ts";

export type { ExplainedCrop };

/** How the need of one oxide at one cell came from the guide. */
export interface CellExplained {
  readonly nutrient: Oxide;
  /** Title of the guide. */
  readonly guide: string;
  /** The mapped test there, elemental ppm as the laboratory reports it. */
  readonly testPpm: number;
  /** meq/100 g; null where it was not mapped. */
  readonly cecMeq: number | null;
  /** Class or range of the guide that the test falls in. */
  readonly band: string;
  readonly crops: readonly ExplainedCrop[];
  /** The guide read at the mapped test, all crops together, lb oxide/ac, not rounded; zero where the season is covered. */
  readonly atTestLbPerAc: number;
  /** What drives the rates there, lb oxide/ac. */
  readonly needLbPerAc: number;
  /** Why it is not what the guide says at the mapped test; null where it is. */
  readonly parts: string | null;
}

/**
 * Explains the need at a cell of a field that was worked out: the arithmetic in words by the very rule that made the
 * map. Rules are made ready once. Null outside the field and where no guide was read.
 */
export function cellExplainer(
  plan: Plan,
  result: FieldResult,
  answers: Answers,
): (nutrient: Oxide, cell: number) => CellExplained | null {
  const rules = new Map<Oxide, FieldRule>();
  const ruleOf = (nutrient: Oxide): FieldRule => {
    const known = rules.get(nutrient);
    if (known) return known;
    const { field, checked, need } = result;
    const made = fieldRule(needSlice(plan, false), field, nutrient, checked, need.yieldBuPerAc, answers);
    rules.set(nutrient, made);
    return made;
  };
  return (nutrient, cell) => {
    const map = result.maps[nutrient === "P2O5" ? "P" : "K"];
    const test = map?.estimate[cell];
    if (result.need[nutrient].rule === null || test === undefined || Number.isNaN(test)) return null;
    const rule = ruleOf(nutrient);
    const cec = result.maps.CEC?.estimate[cell];
    const rates = nutrient === "P2O5" ? result.need.p2o5LbPerAc : result.need.k2oLbPerAc;
    const atTest = rule.rate(test, cec ?? Number.NaN, cell);
    const needed = rates[cell]!;
    return {
      nutrient,
      guide: rule.guide.title,
      testPpm: test,
      cecMeq: cec ?? null,
      band: rule.first.rule.band(rule.first.test.toGuideTest(test), cec ?? Number.NaN),
      crops: rule.explain(test, cec ?? Number.NaN, cell),
      atTestLbPerAc: atTest,
      needLbPerAc: needed,
      parts: whyApart(plan, result, rule, Math.abs(needed - atTest) > 1e-9),
    };
  };
}

function whyApart(plan: Plan, { field }: FieldResult, rule: FieldRule, isApart: boolean): string | null {
  if (rule.covered !== undefined) return `an earlier application covers the crops through ${rule.covered}`;
  if (!isApart) return null;
  if (field.needFrom?.kind === "flat") return "the field gets one flat rate";
  if (plan.need?.drivenBy === "expected")
    return "the need expected over what the test may be drives the rates";
  if (plan.need?.drivenBy === "weighted")
    return "the need that weighs a missing against an excess pound drives the rates";
  return "the map and the rule differ";
}
