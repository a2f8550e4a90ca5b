import { guideById, guideIds } from "../agronomy/index.ts";
import { InputError } from "../errors/index.ts";
import { isKnownAnswerKey } from "../plan/index.ts";

/**
 * Throws `unknown-answer-key` for the first key that no question ever has; a known key nobody asks for in
 * this run is let through; `read` and `new` say that it changed nothing.
 */
export function refuseUnknownAnswers(answers: ReadonlyMap<string, string>, verb: string): void {
  for (const key of answers.keys()) {
    if (isKnownAnswerKey(key)) continue;
    const isOption = guideIds().some((id) => guideById(id).options.some((option) => option.key === key));
    const remedy = isOption
      ? `What a guide asks is answered as --answer option.${key}=…; in a plan it stands under guideOptions.`
      : `bermplan ${verb} --help names the keys, and every open question its own.`;
    throw new InputError("unknown-answer-key", `--answer ${key}: no question has this key`, remedy);
  }
}
