import {
  type Guide,
  type GuideConfirmation,
  type GuideStatus,
  guideNotices,
  guideStatus,
  type Nutrient,
  type OptionAnswers,
  type Recommendation,
  recommend,
  type TestReading,
} from "../agronomy/index.ts";
import { InputError, type Notice, type Question, QuestionError } from "../errors/index.ts";
import { withoutRepeats } from "./need-of-nutrient.ts";

/** One test as typed: elemental ppm at the guide's own depth unless `reading` says otherwise. */
interface TypedTest {
  readonly value: number;
  readonly method: string;
  readonly reading?: Omit<TestReading, "method">;
}

export interface ExplainInput {
  readonly crop: string;
  readonly yieldBuPerAc: number;
  readonly p?: TypedTest;
  readonly k?: TypedTest;
  readonly cecMeq?: number;
  readonly options?: OptionAnswers;
  readonly secondYieldBuPerAc?: number;
  readonly buildUp?: boolean;
  readonly confirmation?: GuideConfirmation;
}

interface ExplainedNutrient {
  /** Broadcast rate, lb oxide/ac, not rounded. */
  readonly lbPerAc: number;
  readonly roundedLbPerAc: number;
  readonly band: string;
  readonly yearsCovered: number;
  readonly steps: readonly string[];
}

/** In the shape of `bermplan need --json`; a nutrient whose test was not given is left out. */
export interface ExplainedNeed {
  readonly guide: string;
  readonly crop: string;
  readonly status: GuideStatus;
  readonly p2o5?: ExplainedNutrient;
  readonly k2o?: ExplainedNutrient;
  readonly notices: readonly Notice[];
}

/**
 * What a guide says to typed tests, with the arithmetic in words.
 * Throws `test-missing` when no test is given, what `recommend` throws, and one `QuestionError` with the open
 * options of both nutrients.
 */
export function explainNeed(guide: Guide, input: ExplainInput): ExplainedNeed {
  if (input.p === undefined && input.k === undefined) {
    throw new InputError(
      "test-missing",
      "neither a P nor a K test is given",
      "Give a P test, a K test or both.",
    );
  }
  const questions: Question[] = [];
  const phosphate = orQuestions(() => one(guide, input, "P2O5", input.p), questions);
  const potash = orQuestions(() => one(guide, input, "K2O", input.k), questions);
  if (questions.length > 0) throw new QuestionError(withoutSameKey(questions));
  return {
    guide: guide.id,
    crop: input.crop,
    status: guideStatus(guide, input.confirmation),
    ...(phosphate === undefined ? {} : { p2o5: nutrientOf(phosphate) }),
    ...(potash === undefined ? {} : { k2o: nutrientOf(potash) }),
    notices: noticesOf(
      guide,
      [phosphate, potash].filter((one) => one !== undefined),
      input.confirmation,
    ),
  };
}

/** What holds of the guide once for both nutrients, then what is said of each test. */
function noticesOf(
  guide: Guide,
  made: readonly Recommendation[],
  confirmation: GuideConfirmation | undefined,
): Notice[] {
  const used = [...new Set(made.flatMap(({ constants }) => constants))];
  const ofGuide = guideNotices(guide, used, confirmation);
  const rest = made
    .flatMap(({ notices }) => notices)
    .filter(({ code, where }) => where !== guide.id || !GUIDE_CODES.has(code));
  return withoutRepeats([...ofGuide, ...rest]);
}

const GUIDE_CODES = new Set(["guide-superseded", "guide-unconfirmed", "guide-overridden"]);

function one(
  guide: Guide,
  input: ExplainInput,
  nutrient: Nutrient,
  test: TypedTest | undefined,
): Recommendation | undefined {
  if (test === undefined) return undefined;
  const { p: _p, k: _k, ...shared } = input;
  return recommend(guide, {
    ...shared,
    nutrient,
    test: test.value,
    testMethod: test.method,
    ...(test.reading === undefined ? {} : { reading: test.reading }),
  });
}

function orQuestions<T>(work: () => T, questions: Question[]): T | undefined {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof QuestionError)) throw error;
    questions.push(...error.questions);
    return undefined;
  }
}

const withoutSameKey = (questions: readonly Question[]): Question[] =>
  questions.filter((question, i) => questions.findIndex((other) => other.key === question.key) === i);

const nutrientOf = ({
  lbPerAc,
  roundedLbPerAc,
  band,
  yearsCovered,
  steps,
}: Recommendation): ExplainedNutrient => ({
  lbPerAc,
  roundedLbPerAc,
  band,
  yearsCovered,
  steps,
});
