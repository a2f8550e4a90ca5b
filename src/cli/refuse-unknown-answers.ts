import { InputError } from "../errors/index.ts";
import { isKnownAnswerKey } from "../plan/index.ts";

/**
 * Throws `unknown-answer-key` for the first key that no question ever has; a known key nobody asks for in
 * this run is let through; `read` and `new` say that it changed nothing.
 */
export function refuseUnknownAnswers(answers: ReadonlyMap<string, string>, verb: string): void {
  for (const key of answers.keys()) {
    if (isKnownAnswerKey(key)) continue;
    const remedy = `bermplan ${verb} --help names the keys, and every open question its own.`;
    throw new InputError("unknown-answer-key", `--answer ${key}: no question has this key`, remedy);
  }
}
