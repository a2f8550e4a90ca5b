import { InputError, type Notice } from "../errors/index.ts";
import { type ReadyRule, type RuleChoice, readyRule } from "./compile-rule.ts";
import { elementOf } from "./element-of.ts";
import { type GuideConfirmation, guideNotices } from "./guide-notices.ts";
import { plainNumber } from "./plain-number.ts";
import { roundToStep } from "./round-to-step.ts";
import type { TestReading } from "./test-method.ts";
import type { Guide, Nutrient } from "./types.ts";

/** One soil test and one crop, as `recommend` takes them. */
export interface RecommendInput extends Omit<RuleChoice, "reading" | "withAddition"> {
  readonly yieldBuPerAc: number;
  /** As reported, elemental, in `reading.unit` (ppm when not stated). */
  readonly test: number;
  readonly testMethod: string;
  /** What else is known of the test: unit, basis, depth, a conversion asked for, a typed critical level. */
  readonly reading?: Omit<TestReading, "method">;
  /** meq/100 g; needed where the rule hangs on it. */
  readonly cecMeq?: number;
  /** Who compared the guide's figures with the bulletin. */
  readonly confirmation?: GuideConfirmation;
}

/** What a guide says to one soil test. */
export interface Recommendation {
  /** Broadcast rate, lb oxide/ac, not rounded. */
  readonly lbPerAc: number;
  /** To the step of the guide's printed tables, or to a whole pound. */
  readonly roundedLbPerAc: number;
  /** Class or range the test falls in. */
  readonly band: string;
  /** The arithmetic in words, in order. */
  readonly steps: string[];
  /** Crop years one application covers. */
  readonly yearsCovered: number;
  /** Ids of the guide's figures that were used. */
  readonly constants: readonly string[];
  readonly notices: Notice[];
}

/**
 * The rate of one nutrient at one place.
 * Throws what `readyRule` throws, and `yield-not-usable`, `test-not-usable`, `cec-missing`.
 */
export function recommend(guide: Guide, input: RecommendInput): Recommendation {
  checkYield(input.yieldBuPerAc, input.crop);
  const element = elementOf(input.nutrient);
  if (!Number.isFinite(input.test) || input.test < 0) {
    throw new InputError(
      "test-not-usable",
      `the ${element} test ${input.test} is not a number from 0 up`,
      `Give the ${element} test in ppm.`,
    );
  }
  const ready = readyRule(guide, { ...input, reading: { ...input.reading, method: input.testMethod } });
  const cec = input.cecMeq ?? Number.NaN;
  refuseMissingCec(ready, cec, guide, input.nutrient);

  const test = ready.test.toGuideTest(input.test);
  const lbPerAc = ready.rule.rate(test, cec, input.yieldBuPerAc);
  const step = guide.rounding.rateToLbPerAc;
  const roundedLbPerAc = roundToStep(lbPerAc, step);
  const steps = [...ready.test.steps(input.test), ...ready.rule.steps(test, cec, input.yieldBuPerAc)];
  if (Math.abs(roundedLbPerAc - lbPerAc) > 5e-4) {
    steps.push(`To ${step} lb: ${plainNumber(roundedLbPerAc)} lb ${input.nutrient}/ac.`);
  }
  if (ready.rule.yearsCovered > 1)
    steps.push(`One application covers ${ready.rule.yearsCovered} crop years.`);
  return {
    lbPerAc,
    roundedLbPerAc,
    band: ready.rule.band(test, cec),
    steps,
    yearsCovered: ready.rule.yearsCovered,
    constants: ready.rule.constants,
    notices: [...guideNotices(guide, ready.rule.constants, input.confirmation), ...ready.notices],
  };
}

/** Throws `yield-not-usable` for a yield goal that is not above 0. */
export function checkYield(yieldBuPerAc: number, crop: string): void {
  if (Number.isFinite(yieldBuPerAc) && yieldBuPerAc > 0) return;
  throw new InputError(
    "yield-not-usable",
    `the yield ${yieldBuPerAc} for ${crop} is not above 0`,
    "Give the yield goal in bu/ac.",
  );
}

function refuseMissingCec(ready: ReadyRule, cecMeq: number, guide: Guide, nutrient: Nutrient): void {
  if (!ready.rule.needsCec || cecMeq >= 0) return;
  throw new InputError(
    "cec-missing",
    `${guide.title} (${guide.id}) reads ${nutrient} by the CEC of the soil; ${Number.isNaN(cecMeq) ? "none is given" : `${cecMeq} is not usable`}`,
    "Give the CEC in meq/100 g.",
  );
}
