import { InputError, noticeLines, oneWord, type Question, QuestionError } from "../errors/index.ts";
import { type ExitCode, exit } from "./exit.ts";
import { printable } from "./talk.ts";

/** Where notices stand that were not shown one by one. */
export const allInJson = "--json lists them all";

/** What is said and printed when a verb did not come to its end. */
interface Explanation {
  readonly exit: ExitCode;
  /** For standard error. */
  readonly text: string;
  /** For standard output with --json; null when there is nothing to say in JSON. */
  readonly json: unknown;
}

/**
 * Puts whatever was thrown into words: message and remedy for the user's mistake, the questions with the
 * words that answer them, and a stack trace only for our bug. `strong` marks the first words.
 */
export function explain(error: unknown, version: string, strong: (text: string) => string): Explanation {
  if (error instanceof InputError) {
    const { code, message, remedy } = error;
    const text = `${strong("bermplan:")} ${printable(message)}\n${printable(remedy)}\n`;
    return { exit: exit.input, text, json: { error: { code, message, remedy } } };
  }
  if (error instanceof QuestionError) {
    const head = `${strong("bermplan:")} ${error.message}; nothing was written\n`;
    const { notices } = error;
    const questions = error.questions.map(({ key, text, choices, likely, seen, byFile }) => ({
      ...{ key, text, choices, seen },
      ...(likely === undefined ? {} : { likely }),
      ...(byFile === undefined || byFile.length < 2 ? {} : { byFile }),
    }));
    return {
      exit: exit.question,
      text:
        noticeLines(notices, allInJson)
          .map((line) => `${printable(line)}\n`)
          .join("") +
        head +
        error.questions.map(questionText).join(""),
      json: notices.length === 0 ? { questions } : { questions, notices },
    };
  }
  const trace = error instanceof Error ? (error.stack ?? error.message) : String(error);
  const cause =
    error instanceof Error && error.cause instanceof Error ? `caused by ${error.cause.stack}\n` : "";
  const head = `${strong("bermplan:")} this is our fault, not yours: please report it with the lines below\n`;
  const text = `${head}bermplan ${version}, Node ${process.version}, ${process.platform}\n${printable(trace)}\n${printable(cause)}`;
  return { exit: exit.bug, text, json: null };
}

function questionText(question: Question): string {
  const lines = [`  ${question.text}`, `    seen: ${question.seen}`];
  const { choices } = question;
  const comma = choices.some((choice) => choice.includes(",")) ? "; " : ", ";
  if (choices.length > 0) lines.push(`    choices: ${choices.join(comma)}`);
  if (question.likely !== undefined) lines.push(`    likely: ${question.likely}`);
  lines.push(`    answer with: --answer ${oneWord(`${question.key}=VALUE`)}`);
  const ofFiles = question.byFile?.map(({ key }) => oneWord(`${key}=VALUE`)) ?? [];
  if (ofFiles.length > 1) lines.push(`    for one file alone: ${ofFiles.join(", ")}`);
  return `${printable(lines.join("\n"))}\n`;
}
