import { useState } from "preact/hooks";
import {
  type Answers,
  guideById,
  guideIds,
  kMethods,
  LEAST_ROW_SPACING_IN,
  LEDGER_PATH,
  MOST_ROWS,
  methodInWords,
  pMethods,
  type Question,
} from "#core";

interface QuestionsProps {
  readonly questions: readonly Question[];
  readonly isWaiting: boolean;
  readonly answer: (given: Answers) => void;
}

/** The open questions; no answer is chosen beforehand. */
export function Questions({ questions, isWaiting, answer }: QuestionsProps) {
  const [given, setGiven] = useState<Answers>({});
  const [apart, setApart] = useState<readonly string[]>([]);
  const shown = questions.flatMap((one) => (apart.includes(one.key) ? (one.byFile ?? [one]) : [one]));
  const isComplete = shown.every(({ key }) => (given[key] ?? "").trim() !== "");
  return (
    <form
      class="questions"
      onSubmit={(event) => {
        event.preventDefault();
        if (isComplete)
          answer(Object.fromEntries(shown.flatMap((one) => answersTo(one, given[one.key]!.trim()))));
      }}
    >
      {shown.map((question) => (
        <OneQuestion
          key={question.key}
          question={question}
          value={given[question.key] ?? ""}
          onAnswer={(value) => setGiven({ ...given, [question.key]: value })}
          onApart={() => setApart([...apart, question.key])}
        />
      ))}
      <button type="submit" class="aside" disabled={!isComplete || isWaiting}>
        {shown.length === 1 ? "Take this answer" : `Take these ${shown.length} answers`}
      </button>
    </form>
  );
}

/** The answer for the files that were named, and for none that comes later. */
const answersTo = ({ key, byFile }: Question, answer: string): [key: string, answer: string][] =>
  (byFile ?? [{ key }]).map((one) => [one.key, answer]);

interface OneQuestionProps {
  readonly question: Question;
  readonly value: string;
  readonly onAnswer: (value: string) => void;
  /** Ask of each of its files alone. */
  readonly onApart: () => void;
}

function OneQuestion({ question, value, onAnswer, onApart }: OneQuestionProps) {
  const { key, choices: all, likely, seen } = question;
  const isCap = key === "cap";
  const text = questionText(question);
  const refused = refusedIn(seen);
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
            aria-invalid={refused !== null && refused === value ? true : undefined}
            value={isCap ? value.replace(EVERY_PLACE, "") : value}
            size={12}
            onInput={({ currentTarget: { value: typed } }) =>
              onAnswer(
                isCap && value.startsWith(EVERY_PLACE) && typed !== "" ? `${EVERY_PLACE}${typed}` : typed,
              )
            }
          />
          {isCap && (
            <label>
              <input
                type="checkbox"
                checked={value.startsWith(EVERY_PLACE)}
                onChange={({ currentTarget: { checked } }) =>
                  onAnswer(`${checked ? EVERY_PLACE : ""}${value.replace(EVERY_PLACE, "")}`)
                }
              />
              every place, not the field's mean alone
            </label>
          )}
          {likely !== undefined && (
            <button type="button" class="link small" onClick={() => onAnswer(likely)}>
              {inWords(key, likely)} is likely, by what was seen
            </button>
          )}
        </span>
      )}
      {refused !== null && (
        <p class="flag-text" role="alert">
          “{refused.replace(EVERY_PLACE, "")}” is not taken. {wantedFor(question)}
        </p>
      )}
      {seenBeside(seen) !== "" && <p class="small second">{seenBeside(seen)}</p>}
      {question.byFile && question.byFile.length > 1 && (
        <button
          type="button"
          class="link small"
          aria-label={`Answer file by file: ${text}`}
          onClick={onApart}
        >
          Answer file by file
        </button>
      )}
    </fieldset>
  );
}

/** Before the figure of a cap that no place may pass; without it the figure is the field's mean. */
const EVERY_PLACE = "most-in-a-cell:";
/** Questions whose own words name what the command line types. */
const PAGE_TEXTS: Readonly<Record<string, string>> = {
  cap: "How many lb of all products together may the strip take per acre of field, as the field's mean?",
  "zero-rate": "What does the controller do with a rate 0?",
  "existing-taskdata":
    "The stick holds a TASKDATA, which may have logs that nobody has saved. What is to become of it?",
};

/** What was answered and is asked again because it could not be taken; null on the first asking. */
const refusedIn = (seen: string): string | null => /(?:^|; )answered “(.*)”$/.exec(seen)?.[1] ?? null;
/** What was seen in the files that raised the question. */
const seenBeside = (seen: string): string =>
  seen === "not answered" ? "" : seen.replace(/(?:^|; )answered “.*”$/, "");

/** What each question that is answered by a figure takes. */
const WANTED: Readonly<Record<string, string>> = {
  rows: `Give the count of rows, a whole number from 1 to ${MOST_ROWS}.`,
  "row-spacing-in": `Give inches, a number from ${LEAST_ROW_SPACING_IN} up.`,
  yield: "Give bushels per acre, a number above 0.",
  cap: "Give lb per acre, a number from 0 up.",
  "setback-ft": "Give feet, a number from 0 up.",
};

const wantedFor = ({ key, choices }: Question): string =>
  choices.length > 0
    ? "Choose one of the answers above."
    : (WANTED[key.replace(/\..*/, "")] ?? "Give another answer.");

/** What a choice means where its own word is short for it. */
const CHOICES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "unreadable-value": { "leave-out": "leave them out" },
  "null-geometry": { "leave-out": "leave them out" },
  "same-place": {
    mean: "their mean",
    first: "the first of them",
    newest: "the newest of them",
    drop: "none: leave all of them out",
  },
  "date-order": {
    "month-first": "month first: 11/03 is November 3",
    "day-first": "day first: 11/03 is March 11",
  },
  [LEDGER_PATH]: {
    folder: "the folder's, as it is there now",
    page: "the page's own, as it was kept",
  },
  "changed-file": { "same-answers": "they still hold" },
  "zero-rate": {
    off: "the meter stops",
    "no-data": "it takes 0 for no data and lays its default rate",
    "small:5": "it must not get a 0: 5 lb/ac stand for 0 in the plain fallback",
  },
  "existing-taskdata": {
    "move-aside": "copy it to a dated folder, whole, and write the new one",
    keep: "leave it, and write everything but task data",
  },
};

/** What is to become of a dropped file whose name the plan has. */
const sameNameInWords = (choice: string): string =>
  choice === "beside"
    ? "beside it"
    : choice === "leave"
      ? "nothing: the plan keeps its own"
      : `replaces ${choice.replace(/^replace:/, "")} of the plan`;

/** The question as the page asks it. */
export const questionText = ({ key, text }: Question): string => PAGE_TEXTS[key] ?? text;

/** An answer that was given, in words. */
export const answerInWords = (key: string, answer: string): string =>
  key === "cap" && answer.startsWith(EVERY_PLACE)
    ? `${answer.replace(EVERY_PLACE, "")} in every place`
    : inWords(key, answer);

function inWords(key: string, choice: string): string {
  if (key.startsWith("same-name.")) return sameNameInWords(choice);
  if (key.startsWith("guide") && guideIds().includes(choice)) return guideById(choice).title;
  const method = [...pMethods, ...kMethods].find((one) => one === choice);
  if (/^method\b/.test(key) && method) return methodInWords(method);
  const asked = Object.keys(CHOICES).find((one) => key === one || key.startsWith(`${one}.`));
  return CHOICES[asked ?? key]?.[choice] ?? choice;
}
