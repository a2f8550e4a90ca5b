import {
  type Conversion,
  conversionsBetween,
  guideById,
  guideIds,
  type Nutrient,
  type ReadyRule,
  readyRule,
  testMethodFrom,
} from "../../agronomy/index.ts";
import { InputError, QuestionError } from "../../errors/index.ts";
import type { LabTable } from "../../soil/index.ts";
import type { PlanField } from "../document/document-types.ts";

/** A field of a new plan and the table its samples come from. */
export interface SampledField {
  readonly field: { readonly id: string; readonly name: string };
  /** Path of the lab table, and how it was read. */
  readonly samples: string;
  readonly tests: LabTable["tests"];
  /** Whether a sample of the field comes with an exchange capacity. */
  readonly hasCec: boolean;
}

/** As far as a guide is judged by it. */
export interface Judged {
  readonly crop: string;
  readonly tests: { readonly [test in "P" | "K"]?: { readonly method: string } };
  readonly hasCec: boolean;
}

/** What was chosen for it. */
export interface GuideChoice extends SampledField {
  readonly guide: string;
  readonly crop: string;
  readonly guideOptions: Readonly<Record<string, string>>;
}

/** Soil tests and their oxides. */
export const TESTS = [
  ["P", "P2O5"],
  ["K", "K2O"],
] as const;
const MISFITS: readonly string[] = [
  "test-method-mismatch",
  "crop-not-in-guide",
  "nutrient-not-in-guide",
  "finish-not-stated",
  "cec-missing",
];

/** Why a guide cannot read one of a field's tests as it is, and the ways through beside another guide. */
export interface GuideMisfit {
  readonly test: "P" | "K";
  readonly nutrient: Nutrient;
  readonly method: string;
  /** `test-method-mismatch`, `crop-not-in-guide`, `nutrient-not-in-guide`, `finish-not-stated` or `cec-missing`. */
  readonly error: InputError;
  /** Published conversions that lead from the test to one the guide reads. */
  readonly conversions: readonly Conversion[];
  /** The guide's rule has a critical level that one of the user's own may stand in place of. */
  readonly takesLevel: boolean;
}

/**
 * What keeps a published guide from reading the tests of a field of the plan, an oxide each; empty where it reads them,
 * and for a guide of the user's own. An oxide that has a guide of its own is not looked at.
 */
export function guideMisfits(
  guide: string,
  field: Pick<PlanField, "crop" | "nutrients">,
  methods: { readonly P: string; readonly K: string },
  hasCec: boolean,
): readonly GuideMisfit[] {
  if (!guideIds().includes(guide)) return [];
  const tests = { P: { method: methods.P }, K: { method: methods.K } };
  const of = { crop: field.crop, tests, hasCec, guideOptions: anyOptions(guide, field.crop) };
  return misfitsOf(of, guide, field.nutrients).filter(
    ({ nutrient }) => field.nutrients?.[nutrient]?.guide === undefined,
  );
}

/** The same for a field of a new plan, with the ways through that are asked for. */
export function misfitsOf(
  of: Judged & Pick<GuideChoice, "guideOptions">,
  id: string,
  asked: PlanField["nutrients"],
): GuideMisfit[] {
  if (!guideIds().includes(id)) return [];
  return TESTS.flatMap(([test, nutrient]): GuideMisfit[] => {
    const method = of.tests[test]?.method;
    if (method === undefined) return [];
    const way = asked?.[nutrient] ?? {};
    try {
      const { rule } = ruleOf(of, id, nutrient, method, way);
      if (rule.needsCec && !of.hasCec) {
        const message = `${guideById(id).title} (${id}) reads ${nutrient} by the CEC of the soil, and the samples have none`;
        const remedy = "Give a CEC with the samples, or choose another guide.";
        const error = new InputError("cec-missing", message, remedy);
        return [{ test, nutrient, method, error, conversions: [], takesLevel: false }];
      }
    } catch (error) {
      // What the rule has to be told first is asked of it elsewhere.
      if (error instanceof QuestionError) return [];
      if (!(error instanceof InputError)) throw error;
      if (MISFITS.includes(error.code))
        return [
          { test, nutrient, method, error, ...waysPast(error, id, way.crop ?? of.crop, nutrient, method) },
        ];
    }
    return [];
  });
}

/** Whether a field's guide, with a conversion or a critical level, reads its test: the conversion leads from it, the rule has a level. */
export function takesWay(choice: GuideChoice, test: "P" | "K", way: PlanNutrient): boolean {
  const method = choice.tests[test]?.method;
  if (method === undefined || choice.crop === "" || !guideIds().includes(choice.guide)) return false;
  const guideOptions = { ...anyOptions(choice.guide, choice.crop), ...choice.guideOptions };
  const nutrient = test === "P" ? "P2O5" : "K2O";
  try {
    ruleOf({ crop: choice.crop, guideOptions }, choice.guide, nutrient, method, way);
    return true;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

type PlanNutrient = NonNullable<NonNullable<PlanField["nutrients"]>[Nutrient]>;

function ruleOf(
  { crop: ofField, guideOptions }: Pick<GuideChoice, "crop" | "guideOptions">,
  id: string,
  nutrient: Nutrient,
  method: string,
  { conversion, criticalLevelPpm, crop = ofField }: PlanNutrient,
): ReadyRule {
  return readyRule(guideById(id), {
    crop,
    nutrient,
    options: guideOptions,
    reading: {
      method: testMethodFrom(method, nutrient),
      unit: "ppm",
      basis: "element",
      ...(conversion === undefined ? {} : { conversion }),
      ...(criticalLevelPpm === undefined ? {} : { ownCriticalLevelPpm: criticalLevelPpm }),
    },
  });
}

/** A published conversion, or a critical level of the user's own. */
function waysPast(
  { code }: InputError,
  guide: string,
  crop: string,
  nutrient: Nutrient,
  method: string,
): Pick<GuideMisfit, "conversions" | "takesLevel"> {
  if (code !== "test-method-mismatch") return { conversions: [], takesLevel: false };
  const rules = guideById(guide).rules.filter((rule) => rule.crop === crop && rule.nutrient === nutrient);
  return {
    conversions: conversionsBetween(
      method,
      rules.flatMap((rule) => rule.methods),
    ),
    takesLevel: rules.some(({ form }) => form.kind === "build-up" || form.kind === "raise-to"),
  };
}

/** Some answer to everything a guide wants to know for a crop: whether it reads a test does not hang on them. */
export const anyOptions = (id: string, crop: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    guideById(id)
      .options.filter((option) => !option.crops || option.crops.includes(crop))
      .map((option) => [option.key, option.choices[0]!]),
  );
