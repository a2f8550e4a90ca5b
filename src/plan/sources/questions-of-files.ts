import type { Question } from "../../errors/index.ts";
import { isKeyByFile } from "../document/answers.ts";
import { keyOfFile } from "../document/answers-of-file.ts";

/** A question that reading one file raised. */
export interface FileQuestion {
  readonly path: string;
  readonly question: Question;
}

/**
 * What reading several files leaves open, each question once. One that several files raise in the same words names all of
 * them with what was seen in each, and has a key for each alone; where words or choices differ each file is asked by its
 * own key. So is a single one of several `tables`: its answer is not to hold for the others.
 */
export function questionsOfFiles(asked: readonly FileQuestion[], tables: readonly string[]): Question[] {
  const byKey = new Map<string, FileQuestion[]>();
  for (const one of asked) {
    const same = byKey.get(one.question.key) ?? [];
    if (!same.some(({ path }) => path === one.path)) byKey.set(one.question.key, [...same, one]);
  }
  return [...byKey].flatMap(([key, same]): Question[] => {
    const [first] = same as [FileQuestion];
    if (!isKeyByFile(key)) return [first.question];
    const isForAll = same.length > 1 ? areAlike(same) : tables.length < 2 || !tables.includes(first.path);
    const byFile = same.map(({ path, question }) => ({
      ...question,
      key: keyOfFile(key, path),
      text: question.text.includes(path) ? question.text : `${path}: ${question.text}`,
    }));
    if (!isForAll) return byFile;
    if (same.length === 1) return [{ ...first.question, byFile }];
    const { text } = first.question;
    return [
      {
        ...first.question,
        text: `${text} One answer is for ${namesOf(same.map(({ path }) => path))} alike.`,
        seen: same.map(({ question }) => question.seen).join("; "),
        byFile,
      },
    ];
  });
}

/** Whether they are one question but for what was seen. */
function areAlike(asked: readonly FileQuestion[]): boolean {
  const wording = new Set(
    asked.map(({ question: { text, choices, likely } }) => JSON.stringify([text, choices, likely])),
  );
  return wording.size === 1;
}

const namesOf = (paths: readonly string[]): string =>
  paths.length > 3 ? `these ${paths.length} files` : `${paths.slice(0, -1).join(", ")} and ${paths.at(-1)}`;
