import type { Notice } from "./notice.ts";

/**
 * What the files do not say and nobody may guess. The page, the command line and `sources[].answers`
 * of a plan share its key and its values.
 */
export interface Question {
  /** Stable: `method.P`, `guide`, `row-spacing-in`. */
  readonly key: string;
  readonly text: string;
  /** Values that can be given; empty when any text or number fits. */
  readonly choices: readonly string[];
  /** The answer what was seen points to, to be offered first; it is never taken by itself. */
  readonly likely?: string;
  /** What was seen that raised the question: file, column, first values. */
  readonly seen: string;
  /** Where it is about files: the same for each of those it is asked for alone, by a key of its own. */
  readonly byFile?: readonly Question[];
}

/** One or more questions stand open; nothing was written. Notices are what was seen besides. */
export class QuestionError extends Error {
  override readonly name: string = "QuestionError";
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];

  constructor(questions: readonly Question[], notices: readonly Notice[] = []) {
    super(`${questions.length} ${questions.length === 1 ? "question needs" : "questions need"} an answer`);
    this.questions = questions;
    this.notices = notices;
  }
}
