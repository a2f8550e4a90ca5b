import { InputError } from "../errors/index.ts";

export interface CsvRecord {
  /** Line of the file on which the record begins, from 1; lines inside quoted cells count. */
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Splits separated text into records by RFC 4180: a cell may stand in double quotes, a quote inside it is
 * doubled, and only there may it hold separators and line breaks. Lines end in CR LF or LF; in a file without
 * any LF, in CR. A blank line is a record of one empty cell; a line break at the very end opens no record.
 * Throws `unclosed-quote`, `text-after-quote`, `quote-in-cell`, `stray-carriage-return`, each naming the line.
 */
export function csvRecords(text: string, separator: string, name: string): CsvRecord[] {
  const breakMark = text.includes("\n") ? "\n" : "\r";
  const records: CsvRecord[] = [];
  let at = 0;
  let line = 1;

  const quotedCell = (): string => {
    const openedOn = line;
    let cell = "";
    at += 1;
    for (;;) {
      const quote = text.indexOf('"', at);
      if (quote < 0) {
        throw new InputError(
          "unclosed-quote",
          `${name}, line ${openedOn}: a quote is opened here and never closed`,
          `Close the quote on line ${openedOn} or take it out.`,
        );
      }
      const piece = text.slice(at, quote);
      cell += piece;
      line += piece.split(breakMark).length - 1;
      at = quote + 1;
      if (text[at] !== '"') break;
      cell += '"';
      at += 1;
    }
    if (at < text.length && text[at] !== separator && !isBreak(at)) {
      throw new InputError(
        "text-after-quote",
        `${name}, line ${line}: text follows a closing quote (${shown(at)})`,
        "Write a quote inside a quoted cell twice, or take the quotes out.",
      );
    }
    return cell;
  };

  const isBreak = (place: number): boolean =>
    text[place] === breakMark || (text[place] === "\r" && text[place + 1] === "\n");
  const shown = (place: number): string => JSON.stringify(text.slice(place, place + 12).split(/[\r\n]/)[0]);

  const plainCell = (): string => {
    const start = at;
    while (at < text.length && text[at] !== separator && !isBreak(at)) {
      if (text[at] === '"') {
        throw new InputError(
          "quote-in-cell",
          `${name}, line ${line}: a quote stands inside a cell that does not begin with one (${shown(start)})`,
          "Put the whole cell in quotes and write the quote inside it twice.",
        );
      }
      if (text[at] === "\r") {
        throw new InputError(
          "stray-carriage-return",
          `${name}, line ${line}: a carriage return stands inside the line`,
          "Save the table again as CSV, so that all lines end alike.",
        );
      }
      at += 1;
    }
    return text.slice(start, at);
  };

  while (at < text.length) {
    const cells: string[] = [];
    const beginsOn = line;
    for (;;) {
      cells.push(text[at] === '"' ? quotedCell() : plainCell());
      if (text[at] !== separator) break;
      at += 1;
    }
    records.push({ line: beginsOn, cells });
    if (at < text.length) {
      at += text[at] === breakMark ? 1 : 2;
      line += 1;
    }
  }
  return records;
}
