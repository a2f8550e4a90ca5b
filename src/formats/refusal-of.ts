import { InputError, type Question } from "../errors/index.ts";

/** An open question as a refusal, for whoever has nobody to ask: what was seen is the message, its key the code. */
export function refusalOf(question: Question): InputError {
  const offered = question.likely === undefined ? question.choices : [question.likely];
  const values = offered.length > 0 ? ` (${offered.join(" or ")})` : "";
  const remedy = `Mend the file, or answer the question ${question.key}${values}.`;
  return new InputError(question.key, question.seen, remedy);
}
