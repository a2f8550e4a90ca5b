import { type OptionAnswers, resolveAmount } from "./amount.ts";
import { compileContext, compileRemoval, plainAnswers } from "./compile-context.ts";
import { type ReadyRule, type RuleChoice, readyRule, removalTerms } from "./compile-rule.ts";
import type { Addition, Guide, Nutrient } from "./types.ts";

/** What is asked of a guide's critical level. */
export interface LevelQuery {
  readonly crop: string;
  readonly nutrient: Nutrient;
  readonly method: string;
  /** A conversion of the test asked for by name, and a critical level typed for the test as reported. */
  readonly conversion?: string;
  readonly ownCriticalLevelPpm?: number;
  readonly cecMeq?: number;
  readonly options?: OptionAnswers;
}

/**
 * The test below which a guide expects the crop to answer, in the guide's unit; undefined where it has none.
 * A level typed by the user goes before all; a critical level the guide lists outright goes before the one inside its
 * rate rule, also for crops without a rate. Throws what `readyRule` throws where there is neither.
 */
export function criticalLevelOf(guide: Guide, query: LevelQuery): number | undefined {
  const cec = query.cecMeq ?? Number.NaN;
  const listed = guide.criticalLevels.find(
    (entry) =>
      entry.crop === query.crop && entry.nutrient === query.nutrient && entry.method === query.method,
  );
  if (listed !== undefined && query.ownCriticalLevelPpm === undefined)
    return resolveAmount(guide, listed.level, query.options ?? {}).value(cec);
  return ruleOf(guide, query).rule.criticalLevel(cec);
}

/** The rule that answers a query, and its way from the reported test to the guide's. Throws as `readyRule`. */
export const ruleOf = (guide: Guide, query: LevelQuery): ReadyRule => readyRule(guide, choiceOf(query));

/** Tests, rising, in the guide's unit, at which the rate jumps. */
export const jumpsOf = (guide: Guide, query: LevelQuery): number[] =>
  ruleOf(guide, query).rule.jumps(query.cecMeq ?? Number.NaN);

const choiceOf = (query: LevelQuery): RuleChoice => ({
  crop: query.crop,
  nutrient: query.nutrient,
  reading: {
    method: query.method,
    ...(query.conversion === undefined ? {} : { conversion: query.conversion }),
    ...(query.ownCriticalLevelPpm === undefined ? {} : { ownCriticalLevelPpm: query.ownCriticalLevelPpm }),
  },
  ...(query.options === undefined ? {} : { options: query.options }),
});

/**
 * What a harvest takes away by the guide's own factors, lb oxide/ac; undefined where the guide has none
 * (sufficiency guides replace nothing).
 */
export function guideRemoval(
  guide: Guide,
  crop: string,
  nutrient: Nutrient,
  yieldBuPerAc: number,
): number | undefined {
  const terms = guide.rules
    .filter((rule) => rule.crop === crop && rule.nutrient === nutrient)
    .map((rule) => removalTerms(rule.form))
    .find((found) => found.length > 0);
  if (terms === undefined || terms.some((term) => term.crop === "second")) return undefined;
  return compileRemoval(compileContext(guide, nutrient, plainAnswers), terms).lbPerAc(yieldBuPerAc);
}

/** Years a raise to the critical level is spread over; undefined where the guide builds nothing up. */
export const buildUpYearsOf = (guide: Guide, options: OptionAnswers = {}): number | undefined =>
  guide.buildUpYears === null
    ? undefined
    : resolveAmount(guide, guide.buildUpYears, options).value(Number.NaN);

/** How the flat addition of a crop's rule counts over an application for several crops; undefined: none. */
export function additionCountsOf(
  guide: Guide,
  crop: string,
  nutrient: Nutrient,
): Addition["counts"] | undefined {
  const rule = guide.rules.find((entry) => entry.crop === crop && entry.nutrient === nutrient);
  return rule?.form.kind === "build-up" ? rule.form.addition?.counts : undefined;
}
