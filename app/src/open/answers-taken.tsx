import type { Answers, Question } from "#core";
import { answerInWords, questionText } from "./questions.tsx";

interface AnswersTakenProps {
  /** Those that were answered. */
  readonly questions: readonly Question[];
  readonly answers: Answers;
  readonly isFixed: boolean;
  /** Ask it again. */
  readonly change: (key: string) => void;
}

/** What was answered so far, each to be changed: it is asked again then. */
export function AnswersTaken({ questions, answers, isFixed, change }: AnswersTakenProps) {
  if (questions.length === 0) return null;
  return (
    <section aria-label="Answers taken">
      <h3>Answers taken</h3>
      <dl class="lines">
        {questions.map((question) => (
          <div key={question.key}>
            <dt>{questionText(question)}</dt>
            <dd>
              <b>{answerInWords(question.key, answers[question.key]!)}</b>{" "}
              <button
                type="button"
                class="link"
                disabled={isFixed}
                aria-label={`Change the answer to: ${questionText(question)}`}
                onClick={() => change(question.key)}
              >
                change
              </button>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
