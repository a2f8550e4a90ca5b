import { InputError, QuestionError } from "#core";
import { type FromEngine, SERVER_GONE, type Trouble } from "./protocol.ts";

/** What the page hears of something that could not be worked out. */
export const toldError = (turn: number, error: unknown): FromEngine =>
  error instanceof QuestionError
    ? { kind: "question", turn, questions: error.questions }
    : { kind: "trouble", turn, trouble: troubleOf(error) };

/** Of the plan or its files, not our bug. */
export const isUsersOwn = (error: unknown): boolean =>
  error instanceof InputError || error instanceof QuestionError;

/** A part of the page's code, or the solver, that came late did not come: whoever serves the page has ended. */
const isServerGone = (error: unknown): boolean =>
  error instanceof Error &&
  /dynamically imported module|importing a module script failed|failed to fetch|networkerror/i.test(
    error.message,
  );

function troubleOf(error: unknown): Trouble {
  if (isServerGone(error))
    return {
      code: SERVER_GONE,
      message: "The page's server does not answer.",
      remedy: "Start bermplan serve again, then load the page again. The plan is kept here.",
      ours: false,
    };
  if (error instanceof InputError) {
    const { code, message, remedy } = error;
    return { code, message, remedy, ours: false };
  }
  return {
    code: "our-fault",
    message: error instanceof Error ? (error.stack ?? error.message) : String(error),
    remedy: "Our fault, not your file's. The plan is safe. Save the report.",
    ours: true,
  };
}
