import { InputError, type Notice } from "../errors/index.ts";
import type { FileAnswers } from "../formats/index.ts";
import type { SampleFile } from "./sample-types.ts";

/** The answer that stands for a cell of a lab table: `mend:FILE:LINE:HEADING`. */
export const mendKey = (file: string, line: number, heading: string): string =>
  `mend:${file}:${line}:${heading}`;

/** The answer that leaves a row out and says why: `leave-out:FILE:LINE`. */
export const leaveOutKey = (file: string, line: number): string => `leave-out:${file}:${line}`;

/** Whether an answer mends something of a file. */
export const isMendOf = (file: string, key: string): boolean =>
  key.startsWith(`mend:${file}:`) || key.startsWith(`leave-out:${file}:`);

export const isMend = (key: string): boolean => /^(mend:.+:\d+:.+|leave-out:.+:\d+)$/.test(key);

/**
 * A lab table with the cells that somebody typed again and without the rows that somebody left out; each is named in a
 * notice. Throws `no-such-cell` for a line or heading that the table has not.
 */
export function mendRows(file: SampleFile, answers: FileAnswers): { file: SampleFile; notices: Notice[] } {
  const own = Object.entries(answers).filter(([key]) => isMendOf(file.name, key));
  if (own.length === 0) return { file, notices: [] };
  const one = file.one ?? "line";
  const notices: Notice[] = [];
  let rows = file.rows;
  for (const [key, answer] of own) {
    const [, what, at, heading] = /^(mend|leave-out):.*?:(\d+)(?::(.+))?$/.exec(
      key.replace(`:${file.name}:`, "::"),
    )!;
    const line = Number(at);
    const row = rows.find((candidate) => candidate.line === line);
    const column = heading === undefined ? -1 : file.headings.indexOf(heading);
    const where = `${file.name}, ${one} ${line}`;
    if (row === undefined || (what === "mend" && column < 0)) {
      throw new InputError(
        "no-such-cell",
        `${where}${heading === undefined ? "" : `, column ${heading}`}: the file has no such place, and “${key}” was answered for it.`,
        "Take the answer back; the file may have changed.",
      );
    }
    if (what === "leave-out") {
      rows = rows.filter((candidate) => candidate !== row);
      const why = answer.trim();
      const message = `${where} is left out${why === "" ? "" : `: ${why}`}.`;
      notices.push({ code: "row-left-out", message, where });
      continue;
    }
    const before = (row.cells[column] ?? "").trim();
    const cells = row.cells.with(column, answer);
    rows = rows.map((candidate) => (candidate === row ? { ...row, cells } : candidate));
    const message = `${where}, column ${heading}: “${before}” is read as ${answer.trim()}, as typed.`;
    notices.push({ code: "value-mended", message, where });
  }
  return { file: { ...file, rows }, notices };
}
