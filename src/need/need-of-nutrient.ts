import {
  checkYield,
  type Guide,
  type GuideConfirmation,
  guideNotices,
  type Nutrient,
  type OptionAnswers,
  readyRule,
  type TestReading,
} from "../agronomy/index.ts";
import { InputError, type Notice } from "../errors/index.ts";

/** What holds for one nutrient in every cell of a field. */
export interface NutrientNeedInputs {
  readonly crop: string;
  /** bu/ac; one number, or one a cell where the field has yield zones. */
  readonly yieldBuPerAc: number | Float64Array;
  readonly options?: OptionAnswers;
  /** False once the years of build-up are over without a new test. Default true. */
  readonly buildUp?: boolean;
  readonly secondYieldBuPerAc?: number;
  /** Who compared the guide's figures with the bulletin. */
  readonly confirmation?: GuideConfirmation;
  readonly reading: TestReading;
  /** lb oxide/ac that leave with straw or stover, typed; counted where the guide counts removal. */
  readonly residueLbPerAc?: number;
  /** False for the later crops of one application where the guide's flat addition counts once. */
  readonly withAddition?: boolean;
}

export interface NutrientNeeds {
  readonly lbPerAc: Float64Array;
  readonly notices: readonly Notice[];
  /** Crop years one application covers. */
  readonly yearsCovered: number;
}

/**
 * The need of every cell by a guide, one nutrient at a time: P and K may come from different guides. Tests are not rounded
 * unless the guide says so. Throws what `readyRule` throws, and `cec-missing`.
 */
export function needOfNutrient(
  guide: Guide,
  nutrient: Nutrient,
  inputs: NutrientNeedInputs,
  tests: Float64Array,
  cecMeq?: Float64Array,
): NutrientNeeds {
  const { yieldBuPerAc, confirmation, ...choice } = inputs;
  if (typeof yieldBuPerAc === "number") checkYield(yieldBuPerAc, inputs.crop);
  else refuseLength(yieldBuPerAc, tests.length, "yields");
  if (cecMeq !== undefined) refuseLength(cecMeq, tests.length, "CEC values");
  const ready = readyRule(guide, { ...choice, nutrient });
  const { rule, test } = ready;
  if (rule.needsCec && cecMeq === undefined) {
    throw new InputError(
      "cec-missing",
      `${guide.title} (${guide.id}) reads ${nutrient} by the CEC of the soil; there is no map of it`,
      "Give a CEC with the samples, or choose another guide.",
    );
  }
  const lbPerAc = new Float64Array(tests.length);
  for (let i = 0; i < tests.length; i++) {
    const yieldHere = typeof yieldBuPerAc === "number" ? yieldBuPerAc : yieldBuPerAc[i]!;
    lbPerAc[i] = rule.rate(test.toGuideTest(tests[i]!), cecMeq?.[i] ?? Number.NaN, yieldHere);
  }
  return {
    lbPerAc,
    notices: [...guideNotices(guide, rule.constants, confirmation), ...ready.notices],
    yearsCovered: rule.yearsCovered,
  };
}

function refuseLength(array: Float64Array, length: number, what: string): void {
  if (array.length !== length) throw new Error(`${array.length} ${what} for ${length} cells`);
}

/** Notices that say the same thing once. */
export function withoutRepeats(notices: readonly Notice[]): Notice[] {
  const seen = new Set<string>();
  return notices.filter((notice) => {
    const key = JSON.stringify(notice);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
