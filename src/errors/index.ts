export { inOneLine } from "./in-one-line.ts";
export { InputError } from "./input-error.ts";
export { nearest } from "./nearest.ts";
export type { Notice } from "./notice.ts";
export { noticeLines } from "./notice-lines.ts";
export { oneWord } from "./one-word.ts";
export { type Question, QuestionError } from "./question.ts";
