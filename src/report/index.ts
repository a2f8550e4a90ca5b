export { noticeLines, summary } from "./summary.ts";
