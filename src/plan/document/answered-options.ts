import { guideById, guideIds } from "../../agronomy/index.ts";
import type { Answers } from "./answers.ts";
import type { Plan, PlanField } from "./document-types.ts";

type Options = Readonly<Record<string, string>>;

const BEGIN = "option.";

/** Answers to what a guide asks, `option.KEY`, by key; those for one field, `option.KEY.FIELD`, before those for all. */
export function optionAnswers(answers: Answers, fieldId: string): Options {
  const end = `.${fieldId}`;
  const given = Object.entries(answers).filter(([key]) => key.startsWith(BEGIN));
  const forAll = given.filter(([key]) => !key.includes(".", BEGIN.length));
  const own = given
    .filter(([key]) => key.endsWith(end))
    .map(([key, value]) => [key.slice(0, -end.length), value]);
  return Object.fromEntries([...forAll, ...own].map(([key, value]) => [key!.slice(BEGIN.length), value!]));
}

/**
 * The plan with `option.KEY` answers where a field's guide asks and the plan does not say: what it says stands, a rotation that
 * tells the guide's own stands too. The same plan where there is nothing to take.
 */
export function withAnsweredOptions(plan: Plan, answers: Answers): Plan {
  if (!Object.keys(answers).some((key) => key.startsWith(BEGIN))) return plan;
  return { ...plan, fields: plan.fields.map((field) => answered(field, optionAnswers(answers, field.id))) };
}

function answered(field: PlanField, given: Options): PlanField {
  const missing = (guide: string, had: Options): Options =>
    Object.fromEntries(
      (guideIds().includes(guide) ? guideById(guide).options : []).flatMap(({ key, choices }) => {
        const answer = given[key];
        const isTold = had[key] !== undefined || (key === "rotation" && field.rotation !== undefined);
        return answer === undefined || isTold || !choices.includes(answer) ? [] : [[key, answer]];
      }),
    );
  const nutrients = Object.entries(field.nutrients ?? {}).map(([oxide, one]) => {
    const own = one.guide === undefined ? {} : missing(one.guide, one.guideOptions ?? {});
    return [
      oxide,
      Object.keys(own).length === 0 ? one : { ...one, guideOptions: { ...one.guideOptions, ...own } },
    ];
  });
  const ofField = missing(field.guide, field.guideOptions ?? {});
  return {
    ...field,
    ...(Object.keys(ofField).length === 0 ? {} : { guideOptions: { ...field.guideOptions, ...ofField } }),
    ...(nutrients.length === 0 ? {} : { nutrients: Object.fromEntries(nutrients) }),
  };
}
