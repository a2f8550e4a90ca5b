import { guideIds } from "../../agronomy/index.ts";
import type { InputError, Question } from "../../errors/index.ts";
import type { Answers } from "../document/answers.ts";
import {
  anyOptions,
  type GuideChoice,
  type GuideMisfit,
  type Judged,
  misfitsOf,
} from "../sources/guide-misfits.ts";
import { type FileQuestion, questionsOfFiles } from "../sources/questions-of-files.ts";
import { type WaysThrough, waysThrough } from "../sources/ways-through.ts";

/** Crops that a new plan can be made for. */
export const NEW_PLAN_CROPS: readonly string[] = ["corn", "soybean", "wheat"];

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

/**
 * Asks where a guide has no rule for a field's crop or does not read its test or lacks a CEC: the fields would be refused when they are
 * worked out. Another guide, a conversion or a critical level leads through, and for Mehlich-3 the laboratory's finish,
 * which is asked of each of the plan's `tables` that does not say it. Throws what `waysThrough` throws.
 */
export function guideQuestions(
  choices: readonly GuideChoice[],
  answers: Answers,
  tables: readonly string[],
): Question[] {
  const finishes: FileQuestion[] = [];
  const ways = waysThrough(choices, answers);
  const judged = choices
    .filter(({ crop }) => crop !== "")
    .map((choice) => ({ choice, misfits: misfitsOf(choice, choice.guide, ways.of(choice.field.id)) }));
  for (const { choice, misfits } of judged)
    for (const { test, error } of misfits.filter((one) => !isNoMatterOfFinish(one)))
      finishes.push({ path: choice.samples, question: finishQuestion(choice, test, error) });
  const byGuide = judged.filter(({ misfits }) => misfits.some(isNoMatterOfFinish));
  // One answer for the fields that have no guide of their own where every field wants another for the same tests.
  const isEvery = byGuide.length === judged.length && new Set(byGuide.map(testsOf)).size === 1;
  const alike = isEvery ? byGuide.filter(({ choice }) => !hasOwnGuide(choice, answers)) : [];
  const isOne = alike.length > 0 && fittingAll(alike).length > 0;
  const alone = isOne ? byGuide.filter((one) => !alike.includes(one)) : byGuide;
  return [
    ...questionsOfFiles(finishes, tables),
    ...(isOne ? [guideQuestion("guide", alike, ways)] : []),
    ...alone.map((one) => guideQuestion(`guide.${one.choice.field.id}`, [one], ways)),
  ];
}

/** A field whose guide does not read its tests. */
interface Misfit {
  readonly choice: GuideChoice;
  readonly misfits: readonly GuideMisfit[];
}

const isNoMatterOfFinish = ({ error }: GuideMisfit): boolean => error.code !== "finish-not-stated";

/** Why, and of which tests, as one text. */
const testsOf = ({ misfits }: Misfit): string =>
  JSON.stringify(misfits.map(({ test, method, error }) => [test, method, error.code]));

const hasOwnGuide = ({ field }: GuideChoice, answers: Answers): boolean =>
  answers[`guide.${field.id}`] !== undefined;

const fittingAll = (fields: readonly Misfit[]): string[] =>
  guideIds().filter((id) => fields.every(({ choice }) => fits(id, choice)));

function guideQuestion(key: string, fields: readonly Misfit[], ways: WaysThrough): Question {
  const misfits = fields.flatMap((one) => one.misfits);
  const kept = once(
    fields.flatMap(({ choice, misfits }) => misfits.flatMap((one) => ways.kept(choice, one))),
  );
  const keep = kept.length === 0 ? "" : ` To keep this one answer ${kept.join("; and ")}.`;
  const needsCec = misfits.some(({ error }) => error.code === "cec-missing");
  const cec = needsCec ? " It can be kept with a lab table that has a column CEC." : "";
  const passed = once(
    fields.flatMap(({ choice, misfits }) => misfits.flatMap((one) => ways.passed(choice, one))),
  );
  const why = once(misfits.map(({ error }) => error.message)).join("; ");
  return {
    key,
    text: `${why}. Which guide instead?${keep}${cec}${passed.map((words) => ` ${words}`).join("")}`,
    choices: fittingAll(fields),
    seen: fields.map(({ choice, misfits }) => seenIn(choice, misfits)).join("; "),
  };
}

const once = (texts: readonly string[]): readonly string[] => [...new Set(texts)];

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
