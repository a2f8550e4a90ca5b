import { guideById, guideIds } from "../../agronomy/index.ts";
import type { Notice } from "../../errors/index.ts";
import { optionAnswers } from "../document/answered-options.ts";
import type { AnswerReader, Answers } from "../document/answers.ts";
import type { PlanNutrient } from "../document/document-need-types.ts";
import type { PlanField } from "../document/document-types.ts";
import { guideOptions } from "../document/guide-options.ts";

type Options = Readonly<Record<string, string>>;

/** What a field's guides want to know in the season after; absent where nothing is told. */
type OptionsAfter = Pick<PlanField, "guideOptions" | "nutrients">;

/**
 * The guide options of a field in the season after `last`, where `crop` stands. What was told of the field stays, but for
 * an option that means the crop before: that is last season's crop, told in a notice, or asked where the guide does not
 * offer it. An answer goes before both, one for this field alone (`option.KEY.FIELD`) before one for all.
 */
export function optionsAfter(
  last: PlanField,
  crop: string,
  reader: AnswerReader,
  answers: Answers,
  notices: Notice[],
): OptionsAfter {
  const stood: Notice[] = [];
  const settled = (guide: string, had: Options, isWanted: (key: string) => boolean): Options => {
    const means = cropBeforeKeys(guide);
    const before = Object.fromEntries(means.map((key) => [key, last.crop]));
    const wanted = guideOptions(guide, crop, { ...had, ...before, ...optionAnswers(answers, last.id) });
    for (const question of wanted.questions) {
      const key = question.key.slice("option.".length);
      // The crop before is a field's own.
      const own = means.includes(key)
        ? { key: `${question.key}.${last.id}`, text: `${last.name}: ${question.text}` }
        : {};
      if (isWanted(key)) reader.addOpen({ ...question, ...own });
    }
    for (const key of means.filter(isWanted)) {
      const taken = wanted.options[key];
      if (taken !== undefined)
        stood.push({ code: "crop-before-taken", message: inWords(last, key, taken), where: last.id });
    }
    return wanted.options;
  };
  const ofNutrient = (one: PlanNutrient): PlanNutrient => {
    const { guide = last.guide, guideOptions: had } = one;
    if (had === undefined) return one;
    const isAsked = (key: string): boolean => had[key] !== undefined;
    const taken = Object.entries(settled(guide, had, isAsked)).filter(([key]) => isAsked(key));
    return { ...one, guideOptions: { ...had, ...Object.fromEntries(taken) } };
  };
  const nutrients = Object.entries(last.nutrients ?? {}).map(
    ([oxide, one]) => [oxide, ofNutrient(one)] as const,
  );
  const ofField = settled(last.guide, last.guideOptions ?? {}, () => true);
  notices.push(...stood.filter(({ message }, i) => stood.findIndex((one) => one.message === message) === i));
  return {
    ...(Object.keys(ofField).length === 0 ? {} : { guideOptions: ofField }),
    ...(nutrients.length === 0 ? {} : { nutrients: Object.fromEntries(nutrients) }),
  };
}

const inWords = ({ id, name, crop }: PlanField, key: string, taken: string): string =>
  taken === crop
    ? `${name}: ${key} taken as ${taken}, last season's crop; if another stood there since, answer option.${key}.${id} or change guideOptions in plan.json`
    : `${name}: ${key} is ${taken} as answered, though last season's crop is ${crop}`;

/** Options of a published guide that mean the crop before; a guide of one's own asks nothing. */
const cropBeforeKeys = (guide: string): readonly string[] =>
  guideIds().includes(guide)
    ? guideById(guide).options.flatMap(({ key, means }) => (means === "crop before" ? [key] : []))
    : [];
