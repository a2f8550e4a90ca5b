import { type OptionAnswers, type ResolvedAmount, resolveAmount } from "./amount.ts";
import { elementOf } from "./element-of.ts";
import { plainNumber } from "./plain-number.ts";
import type { Amount, Guide, Nutrient, RemovalTerm } from "./types.ts";

/** What the user settles beside test, CEC and yield. */
interface RuleAnswers {
  readonly options: OptionAnswers;
  /** False once the years of build-up are over without a new test: removal alone below the critical level. */
  readonly buildUp: boolean;
  /** Yield of the second crop of a two-year rate, bu/ac; NaN where there is none. */
  readonly secondYieldBuPerAc: number;
  /** Critical level typed by the user, in the unit of the guide. */
  readonly ownCriticalLevel?: number;
  /** lb oxide/ac that leave with straw or stover, typed by the user; counted with removal. */
  readonly residueLbPerAc: number;
  /** False for the later crops of one application where the guide's flat addition counts once. */
  readonly withAddition: boolean;
}

/** Nothing typed, nothing special. */
export const plainAnswers: RuleAnswers = {
  options: {},
  buildUp: true,
  secondYieldBuPerAc: Number.NaN,
  residueLbPerAc: 0,
  withAddition: true,
};

/** What a form needs to compile itself. */
export interface CompileContext {
  readonly guide: Guide;
  readonly nutrient: Nutrient;
  /** `ppm P`, `lb/ac K`. */
  readonly testWords: string;
  readonly answers: RuleAnswers;
  resolve(amount: Amount): ResolvedAmount;
}

export function compileContext(guide: Guide, nutrient: Nutrient, answers: RuleAnswers): CompileContext {
  return {
    guide,
    nutrient,
    testWords: `${guide.testUnit} ${elementOf(nutrient)}`,
    answers,
    resolve: (amount) => resolveAmount(guide, amount, answers.options),
  };
}

/** Removal in lb oxide/ac, and its arithmetic. */
export interface Removal {
  lbPerAc(yieldBuPerAc: number): number;
  words(yieldBuPerAc: number): string;
  readonly constants: readonly string[];
}

export function compileRemoval(context: CompileContext, terms: readonly RemovalTerm[]): Removal {
  const { secondYieldBuPerAc: second, residueLbPerAc: residue } = context.answers;
  const parts = terms.map((term) => {
    const perBu = context.resolve(term.perBu);
    return { perBu, factor: perBu.value(Number.NaN), isSecond: term.crop === "second" };
  });
  const yieldOf = (isSecond: boolean, first: number): number => (isSecond ? second : first);
  return {
    lbPerAc: (first) =>
      parts.reduce((sum, part) => sum + part.factor * yieldOf(part.isSecond, first), residue),
    words: (first) =>
      parts
        .map((part) => `${yieldOf(part.isSecond, first)} bu x ${part.perBu.words(Number.NaN)} lb`)
        .join(" + ") + (residue === 0 ? "" : ` + ${plainNumber(residue)} lb with the residue`),
    constants: parts.flatMap((part) => part.perBu.constants),
  };
}
