import { InputError, type Notice, type Question, QuestionError } from "../../errors/index.ts";
import type { Answers } from "./answers.ts";

/** What answers led to, and what still stands open. */
interface Outcome {
  readonly questions: readonly Question[];
  readonly result: unknown;
}

/**
 * A notice for each answer that changes nothing: nobody asks for it where nothing is answered, and without it the outcome
 * comes out the same text. An outcome that is refused or asks for something counts by what it says.
 */
export function unusedAnswers(answers: Answers, outcome: (answers: Answers) => Outcome): Notice[] {
  if (Object.keys(answers).length === 0) return [];
  const asked = new Set(outcomeOf(outcome, {}).questions.map(({ key }) => key));
  const doubtful = Object.keys(answers).filter((key) => !asked.has(key));
  if (doubtful.length === 0) return [];
  const whole = JSON.stringify(outcomeOf(outcome, answers));
  return doubtful.flatMap((key): Notice[] => {
    const { [key]: _, ...rest } = answers;
    if (JSON.stringify(outcomeOf(outcome, rest)) !== whole) return [];
    const message = `the answer ${key}=${answers[key]} changes nothing here: without it all comes out the same`;
    return [{ code: "answer-not-used", message, where: key }];
  });
}

function outcomeOf(outcome: (answers: Answers) => Outcome, answers: Answers): Outcome {
  try {
    return outcome(answers);
  } catch (error) {
    if (error instanceof QuestionError) return { questions: error.questions, result: null };
    if (error instanceof InputError) return { questions: [], result: [error.code, error.message] };
    throw error;
  }
}
