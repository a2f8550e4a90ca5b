import {
  type Conversion,
  conversionsBetween,
  guideById,
  guideIds,
  type Nutrient,
  readyRule,
  testMethodFrom,
} from "../agronomy/index.ts";
import { InputError, type Question } from "../errors/index.ts";
import type { LabTable } from "../soil/index.ts";
import type { Answers } from "./answers.ts";
import type { PlanField } from "./document-types.ts";
import { type FileQuestion, questionsOfFiles } from "./questions-of-files.ts";
import { waysThrough } from "./ways-through.ts";

/** Crops that a new plan can be made for. */
export const NEW_PLAN_CROPS: readonly string[] = ["corn", "soybean", "wheat"];

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
interface Judged {
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

const TESTS = [
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

/**
 * Guides that have a rule for the crop of every field and read its tests as they are, CEC among them, in the order of
 * `guideIds`; an empty crop is not known yet. Where no guide does that, all of them. A sampling depth never rules a guide out.
 */
export function fittingGuides(fields: readonly Judged[]): readonly string[] {
  const all = guideIds();
  const fitting = all.filter((id) => fields.every((field) => fits(id, field)));
  return fitting.length > 0 ? fitting : all;
}

/** Whether nothing but the laboratory's finish would be asked before the guide can read the field's tests. */
function fits(id: string, field: Judged): boolean {
  const crops = field.crop === "" ? NEW_PLAN_CROPS : [field.crop];
  return crops.some((crop) =>
    misfitsOf({ ...field, crop, guideOptions: anyOptions(id, crop) }, id, undefined).every(
      ({ error }) => error.code === "finish-not-stated",
    ),
  );
}

/** Some answer to everything a guide wants to know for a crop: whether it reads a test does not hang on them. */
const anyOptions = (id: string, crop: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    guideById(id)
      .options.filter((option) => !option.crops || option.crops.includes(crop))
      .map((option) => [option.key, option.choices[0]!]),
  );

/**
 * Asks where a guide has no rule for a field's crop or does not read its test or lacks a CEC: the fields would be refused when they are
 * worked out. Another guide, a conversion or a critical level leads through, and for Mehlich-3 the laboratory's finish,
 * which is asked of each of the plan's `tables` that does not say it.
 */
export function guideQuestions(
  choices: readonly GuideChoice[],
  answers: Answers,
  tables: readonly string[],
): Question[] {
  const finishes: FileQuestion[] = [];
  const questions: Question[] = [];
  const ask = (question: Question): void => {
    if (!questions.some((one) => one.key === question.key)) questions.push(question);
  };
  const waysOf = waysByField(choices, answers);
  const judged = choices
    .filter(({ crop }) => crop !== "")
    .map((choice) => ({
      choice,
      misfits: misfitsOf(choice, choice.guide, waysOf(choice.field.id).nutrients),
    }));
  const byGuide = judged.filter(({ misfits }) => misfits.some(isNoMatterOfFinish));
  // One answer for every field where all of them want another guide, else one for each that does.
  const isEvery = byGuide.length === judged.length;
  for (const { choice, misfits } of judged) {
    for (const { test, error } of misfits.filter((one) => !isNoMatterOfFinish(one)))
      finishes.push({ path: choice.samples, question: finishQuestion(choice, test, error) });
    if (misfits.some(isNoMatterOfFinish)) ask(guideQuestion(choice, misfits, isEvery, answers));
  }
  return [...questionsOfFiles(finishes, tables), ...questions];
}

/**
 * What `waysThrough` says, by field: of a nutrient for the fields alone whose guide does not take their test as it is, where there
 * are such; else for all.
 */
export function waysByField(
  choices: readonly GuideChoice[],
  answers: Answers,
): (fieldId: string) => Pick<PlanField, "nutrients"> {
  const { nutrients } = waysThrough(answers);
  if (nutrients === undefined) return () => ({});
  const wanting = new Map(
    TESTS.map(([, nutrient]) => [
      nutrient,
      choices.flatMap((choice) => {
        const misfits = choice.crop === "" ? [] : misfitsOf(choice, choice.guide, undefined);
        return misfits.some((one) => one.nutrient === nutrient && isNoMatterOfFinish(one))
          ? [choice.field.id]
          : [];
      }),
    ]),
  );
  return (fieldId) => {
    const own = Object.entries(nutrients).filter(([nutrient]) => {
      const ids = wanting.get(nutrient as Nutrient)!;
      return ids.length === 0 || ids.includes(fieldId);
    });
    return own.length === 0 ? {} : { nutrients: Object.fromEntries(own) };
  };
}

const isNoMatterOfFinish = ({ error }: GuideMisfit): boolean => error.code !== "finish-not-stated";

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

function misfitsOf(
  { crop: ofField, guideOptions, tests, hasCec }: Judged & Pick<GuideChoice, "guideOptions">,
  id: string,
  asked: PlanField["nutrients"],
): GuideMisfit[] {
  if (!guideIds().includes(id)) return [];
  return TESTS.flatMap(([test, nutrient]): GuideMisfit[] => {
    const method = tests[test]?.method;
    if (method === undefined) return [];
    const { conversion, criticalLevelPpm, crop = ofField } = asked?.[nutrient] ?? {};
    try {
      const guide = guideById(id);
      const { rule } = readyRule(guide, {
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
      if (rule.needsCec && !hasCec) {
        const message = `${guide.title} (${id}) reads ${nutrient} by the CEC of the soil, and the samples have none`;
        const remedy = "Give a CEC with the samples, or choose another guide.";
        const error = new InputError("cec-missing", message, remedy);
        return [{ test, nutrient, method, error, conversions: [], takesLevel: false }];
      }
    } catch (error) {
      if (error instanceof InputError && MISFITS.includes(error.code))
        return [{ test, nutrient, method, error, ...waysPast(error, id, crop, nutrient, method) }];
    }
    return [];
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

/** `guide` where every field wants another than the one that was answered for all, else `guide.north`. */
const guideKey = ({ field }: GuideChoice, isEvery: boolean, answers: Answers): string =>
  isEvery && answers[`guide.${field.id}`] === undefined ? "guide" : `guide.${field.id}`;

function guideQuestion(
  choice: GuideChoice,
  misfits: readonly GuideMisfit[],
  isEvery: boolean,
  answers: Answers,
): Question {
  const ways = misfits.flatMap(waysOf);
  const keep = ways.length === 0 ? "" : ` To keep this one answer ${ways.join("; and ")}.`;
  const needsCec = misfits.some(({ error }) => error.code === "cec-missing");
  const cec = needsCec ? " It can be kept with a lab table that has a column CEC." : "";
  const why = [...new Set(misfits.map(({ error }) => error.message))].join("; ");
  return {
    key: guideKey(choice, isEvery, answers),
    text: `${why}. Which guide instead?${keep}${cec}`,
    choices: guideIds().filter((id) => fits(id, choice)),
    seen: seenIn(choice, misfits),
  };
}

/** Answers that keep the guide. */
function waysOf({ test, conversions, takesLevel }: GuideMisfit): string[] {
  const converted = conversions.map(
    ({ id, region, status }) => `conversion.${test}=${id} (${region}, ${status})`,
  );
  const ways = [...converted, ...(takesLevel ? [`critical-level.${test}=PPM, a level of your own`] : [])];
  return ways.length === 0 ? [] : [ways.join(" or ")];
}

function finishQuestion(choice: GuideChoice, test: "P" | "K", error: InputError): Question {
  return {
    key: `method.${test}`,
    text: `${error.message}. Ask the laboratory: how was it read?`,
    choices: ["mehlich-3-icp", "mehlich-3-colorimetric"],
    seen: seenIn(choice, [{ test }]),
  };
}

const seenIn = (
  { field, samples, tests }: GuideChoice,
  misfits: readonly { readonly test: "P" | "K" }[],
): string =>
  `${field.name}: ${samples}, ${misfits.map(({ test }) => `column “${tests[test]!.heading}”`).join(", ")}`;
