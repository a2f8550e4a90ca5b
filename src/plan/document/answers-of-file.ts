import { type Answers, isKeyByFile } from "./answers.ts";

/** The key that answers a question for one file alone: `unit.P.lab.csv`. */
export const keyOfFile = (key: string, path: string): string => `${key}.${path}`;

/** What holds for one file: `unit.P` as answered for all, and over it `unit.P.lab.csv` where that was answered. */
export function answersOfFile(path: string, answers: Answers): Answers {
  const ofFile = keyOfFile("", path);
  const own = Object.entries(answers).flatMap(([key, answer]) => {
    const bare = key.endsWith(ofFile) ? key.slice(0, -ofFile.length) : "";
    return isKeyByFile(bare) ? [[bare, answer] as const] : [];
  });
  return own.length === 0 ? answers : { ...answers, ...Object.fromEntries(own) };
}
