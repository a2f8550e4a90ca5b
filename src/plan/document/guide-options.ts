import { guideById, guideIds } from "../../agronomy/index.ts";
import type { Notice, Question } from "../../errors/index.ts";

interface GuideOptions {
  readonly options: Readonly<Record<string, string>>;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

/** The choice that this tool's own crops stand for; it is taken with a notice where a guide offers it. */
const CORN_AND_SOYBEAN = "corn-soy";

/**
 * What a guide wants to know besides test, crop and yield, from what is given by key, as `optionAnswers` has it; the rest is asked as `option.KEY`.
 * A rotation of corn and soybean alone is taken where nobody said otherwise, with a notice.
 */
export function guideOptions(
  guide: string,
  crop: string,
  given: Readonly<Record<string, string>>,
): GuideOptions {
  const options: Record<string, string> = {};
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const asked = guideIds().includes(guide) ? guideById(guide).options : [];
  for (const option of asked.filter((one) => !one.crops || one.crops.includes(crop))) {
    const key = `option.${option.key}`;
    const answer = given[option.key];
    if (answer !== undefined && option.choices.includes(answer)) options[option.key] = answer;
    else if (answer === undefined && option.choices.includes(CORN_AND_SOYBEAN)) {
      options[option.key] = CORN_AND_SOYBEAN;
      const message =
        `${guide}: ${option.key} taken as ${CORN_AND_SOYBEAN}, since ${crop} was named and no rotation. ` +
        `If not, answer ${key} or change guideOptions in plan.json, to one of: ${option.choices.join(", ")}.`;
      notices.push({ code: "rotation-taken", message, where: guide });
    } else {
      questions.push({ key, text: option.question, choices: option.choices, seen: `guide ${guide}` });
    }
  }
  return { options, questions, notices };
}
