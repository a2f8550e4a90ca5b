import { useState } from "preact/hooks";
import { type Answers, guideById, guideIds, kMethods, methodInWords, pMethods, type Question } from "#core";

interface QuestionsProps {
  readonly questions: readonly Question[];
  readonly isWaiting: boolean;
  readonly answer: (given: Answers) => void;
}

/** The open questions; no answer is chosen beforehand. */
export function Questions({ questions, isWaiting, answer }: QuestionsProps) {
  const [given, setGiven] = useState<Answers>({});
  const isComplete = questions.every(({ key }) => (given[key] ?? "").trim() !== "");
  return (
    <form
      class="questions"
      onSubmit={(event) => {
        event.preventDefault();
        if (isComplete) answer(given);
      }}
    >
      {questions.map((question) => (
        <OneQuestion
          key={question.key}
          question={question}
          value={given[question.key] ?? ""}
          onAnswer={(value) => setGiven({ ...given, [question.key]: value })}
        />
      ))}
      <button type="submit" class="aside" disabled={!isComplete || isWaiting}>
        {questions.length === 1 ? "Take this answer" : `Take these ${questions.length} answers`}
      </button>
    </form>
  );
}

interface OneQuestionProps {
  readonly question: Question;
  readonly value: string;
  readonly onAnswer: (value: string) => void;
}

function OneQuestion({ question, value, onAnswer }: OneQuestionProps) {
  const { key, text, choices: all, likely, seen } = question;
  const choices = likely === undefined ? all : [likely, ...all.filter((choice) => choice !== likely)];
  return (
    <fieldset class="question" data-key={key}>
      <legend>
        <b>Question.</b> {text}
      </legend>
      {choices.length > 0 ? (
        <div class="answers">
          {choices.map((choice) => (
            <label key={choice}>
              <input
                type="radio"
                name={key}
                value={choice}
                checked={value === choice}
                onChange={() => onAnswer(choice)}
              />
              {inWords(key, choice)}
              {choice === likely && <span class="small second"> likely, by what was seen</span>}
            </label>
          ))}
        </div>
      ) : (
        <span class="answers">
          <input
            type="text"
            aria-label={text}
            value={value}
            size={12}
            onInput={(event) => onAnswer(event.currentTarget.value)}
          />
          {likely !== undefined && (
            <button type="button" class="link small" onClick={() => onAnswer(likely)}>
              {inWords(key, likely)} is likely, by what was seen
            </button>
          )}
        </span>
      )}
      {seen !== "" && seen !== "not answered" && <p class="small second">{seen}</p>}
    </fieldset>
  );
}

/** What a choice means where its own word is short for it. */
const CHOICES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "unreadable-value": { "leave-out": "leave them out" },
  "null-geometry": { "leave-out": "leave them out" },
  "same-place": { mean: "their mean", first: "the first of them", drop: "none: leave all of them out" },
  "date-order": {
    "month-first": "month first: 11/03 is November 3",
    "day-first": "day first: 11/03 is March 11",
  },
  "changed-file": { "same-answers": "they still hold" },
};

function inWords(key: string, choice: string): string {
  if (key.startsWith("guide") && guideIds().includes(choice)) return guideById(choice).title;
  const method = [...pMethods, ...kMethods].find((one) => one === choice);
  if (/^method\b/.test(key) && method) return methodInWords(method);
  return CHOICES[key]?.[choice] ?? choice;
}
