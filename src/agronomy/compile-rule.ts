import { InputError, type Notice } from "../errors/index.ts";
import type { OptionAnswers } from "./amount.ts";
import { type CompileContext, compileContext } from "./compile-context.ts";
import type { CompiledForm, CompiledRule } from "./compiled.ts";
import { compileBuildUp } from "./form-build-up.ts";
import { compileClasses } from "./form-classes.ts";
import { compileEquation } from "./form-equation.ts";
import { compilePieces } from "./form-pieces.ts";
import { compileRaiseTo } from "./form-raise-to.ts";
import { type GuardedTest, guardTest } from "./guard-test.ts";
import type { TestReading } from "./test-method.ts";
import type { Form, Guide, Nutrient, RemovalTerm } from "./types.ts";

/** What settles which rule of a guide holds; all but the test, the CEC and the yield themselves. */
export interface RuleChoice {
  readonly crop: string;
  readonly nutrient: Nutrient;
  readonly reading: TestReading;
  readonly options?: OptionAnswers;
  /** False once the years of build-up are over without a new test. Default true. */
  readonly buildUp?: boolean;
  /** Yield of the second crop, bu/ac, for a rate that covers two crops. */
  readonly secondYieldBuPerAc?: number;
  /** lb oxide/ac of this nutrient that leave with straw or stover, typed; counted where removal is. */
  readonly residueLbPerAc?: number;
  /** False for the later crops of one application where the guide's flat addition counts once. */
  readonly withAddition?: boolean;
}

/** The rule ready to run, and the way from the reported test to the guide's. */
export interface ReadyRule {
  readonly rule: CompiledRule;
  /** As the guide's data have it. */
  readonly form: Form;
  readonly test: Pick<GuardedTest, "toGuideTest" | "beforeRounding" | "steps">;
  readonly notices: readonly Notice[];
}

/**
 * Picks, checks and compiles one rule of a guide.
 * Throws what `guardTest` throws, `unknown-option`, `unknown-option-value`, `second-yield-missing`, `residue-not-usable`, and
 * `QuestionError` for an option that the nutrient needs and nobody answered.
 */
export function readyRule(guide: Guide, choice: RuleChoice): ReadyRule {
  const options = choice.options ?? {};
  checkOptions(guide, options);
  const guarded = guardTest(guide, choice.crop, choice.nutrient, choice.reading);
  const second = choice.secondYieldBuPerAc ?? Number.NaN;
  if (needsSecondYield(guarded.rule.form) && !(second > 0)) {
    throw new InputError(
      "second-yield-missing",
      `${choice.crop} in ${guide.id} covers two crops; the yield of the second is not given`,
      "Give the yield of the second crop in bu/ac.",
    );
  }
  const residue = checkedResidue(choice);
  const notices = [...guarded.notices];
  if (residue > 0 && !countsRemoval(guarded.rule.form)) {
    notices.push({
      code: "residue-not-counted",
      message: `${guide.title} does not replace what the crop takes: the ${residue} lb ${choice.nutrient}/ac in the residue change nothing`,
      where: guide.id,
    });
  }
  const context = compileContext(guide, choice.nutrient, {
    options,
    buildUp: choice.buildUp ?? true,
    secondYieldBuPerAc: second,
    residueLbPerAc: residue,
    withAddition: choice.withAddition ?? true,
    ...(guarded.ownCriticalLevel === undefined ? {} : { ownCriticalLevel: guarded.ownCriticalLevel }),
  });
  const form = compileForm(context, guarded.rule.form);
  return {
    rule: {
      ...form,
      rate: (test, cecMeq, yieldBuPerAc) =>
        Number.isNaN(test) || (form.needsCec && Number.isNaN(cecMeq))
          ? Number.NaN
          : form.rate(test, cecMeq, yieldBuPerAc),
      yearsCovered: guarded.rule.yearsCovered,
      neverRisesWithTest: guarded.rule.neverRisesWithTest,
    },
    form: guarded.rule.form,
    test: guarded,
    notices,
  };
}

function compileForm(context: CompileContext, form: Form): CompiledForm {
  switch (form.kind) {
    case "build-up":
      return compileBuildUp(context, form);
    case "equation":
      return compileEquation(context, form);
    case "raise-to":
      return compileRaiseTo(context, form);
    case "classes":
      return compileClasses(context, form);
    case "pieces":
      return compilePieces(context, form);
  }
}

/** What a rule replaces of the harvest; empty where it replaces nothing. */
export function removalTerms(form: Form): readonly RemovalTerm[] {
  if (form.kind === "build-up") return form.removal;
  return form.kind === "classes" ? form.classes.flatMap((entry) => entry.removal ?? []) : [];
}

const needsSecondYield = (form: Form): boolean => removalTerms(form).some((term) => term.crop === "second");
const countsRemoval = (form: Form): boolean => removalTerms(form).length > 0;

function checkedResidue(choice: RuleChoice): number {
  const residue = choice.residueLbPerAc ?? 0;
  if (residue >= 0 && Number.isFinite(residue)) return residue;
  throw new InputError(
    "residue-not-usable",
    `${residue} lb ${choice.nutrient}/ac in the residue of ${choice.crop} is not from 0 up`,
    "Give the lb that leave the field with straw or stover.",
  );
}

/** Throws `unknown-option` or `unknown-option-value` for an answer the guide does not know. */
function checkOptions(guide: Guide, options: OptionAnswers): void {
  for (const [key, answer] of Object.entries(options)) {
    const option = guide.options.find((entry) => entry.key === key);
    if (option === undefined) {
      const known = guide.options.map((entry) => entry.key);
      throw new InputError(
        "unknown-option",
        `${guide.title} (${guide.id}) has no option "${key}"`,
        known.length === 0 ? "Leave it out: this guide has no options." : `It has ${known.join(", ")}.`,
      );
    }
    if (!option.choices.includes(answer)) {
      throw new InputError(
        "unknown-option-value",
        `"${answer}" is no answer to ${key} of ${guide.title} (${guide.id})`,
        `Answer ${option.choices.join(" or ")}.`,
      );
    }
  }
}
