import type { Notice } from "../errors/index.ts";

/** What a verb says to the person while it works; it goes to standard error, never among the data. */
export interface Talk {
  /** One line that should be read, such as a notice; silent with --quiet. */
  say(line: string): void;
  /** How far the work is; only on a terminal and without --quiet. The next line wipes it. */
  progress(what: string, done: number, total: number): void;
  /** Wipes the progress line when one stands there. */
  clear(): void;
}

interface TalkSettings {
  readonly write: (text: string) => void;
  readonly isTerminal: boolean;
  readonly quiet: boolean;
}

const wipe = "\r\u001b[2K";

export function makeTalk(settings: TalkSettings): Talk {
  let standing = "";
  const clear = (): void => {
    if (standing !== "") settings.write(wipe);
    standing = "";
  };
  return {
    clear,
    say(line: string): void {
      if (settings.quiet) return;
      clear();
      settings.write(`${printable(line)}\n`);
    },
    progress(what: string, done: number, total: number): void {
      if (settings.quiet || !settings.isTerminal) return;
      const line = `${printable(what)} ${done}/${total}`;
      if (line === standing) return;
      settings.write(`${wipe}${line}`);
      standing = line;
    },
  };
}

/** Every notice in a line of its own. */
export function sayNotices(talk: Talk, notices: readonly Pick<Notice, "message">[]): void {
  for (const { message } of notices) talk.say(`Notice: ${message}`);
}

/**
 * Text from files and arguments as a terminal may show it: control characters and marks that turn the
 * reading direction become \u{hex}; line feeds and tabs stay.
 */
export function printable(text: string): string {
  return text.replace(/[^\P{Cc}\n\t]|[\u202a-\u202e\u2066-\u2069]/gu, (mark) => {
    return `\\u{${mark.codePointAt(0)!.toString(16)}}`;
  });
}

/** Bold or plain, as the terminal and NO_COLOR (no-color.org: set and not empty) want it. */
export function emphasis(
  isTerminal: boolean,
  variables: Readonly<Record<string, string | undefined>>,
): (text: string) => string {
  const plain = !isTerminal || Boolean(variables.NO_COLOR) || variables.TERM === "dumb";
  return (text) => (plain ? text : `\u001b[1m${text}\u001b[22m`);
}
