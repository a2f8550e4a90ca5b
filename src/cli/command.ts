import type { OptionName, OptionValues } from "./options.ts";
import type { Talk } from "./talk.ts";

/** One verb. It lives in `commands/<verb>.ts` as the export `command`, and has one line in `verbs.ts`. */
export interface Command {
  /** What it works on. */
  readonly operands: Operands;
  /** What it does, for help: a few sentences. */
  readonly about: string;
  /** The options it takes besides the common ones. */
  readonly options: readonly OptionName[];
  /**
   * Does the work. The user's mistake is an `InputError`, an open question a `QuestionError`, anything
   * else thrown is our bug. Nothing is printed but through `call.talk`.
   */
  run(call: Call): Promise<Outcome>;
}

interface Operands {
  /** As help shows them: `FOLDER FILE...`; empty when there are none. */
  readonly shown: string;
  readonly least: number;
  readonly most: number;
}

/** What a verb is given. */
export interface Call {
  readonly operands: readonly string[];
  readonly options: OptionValues;
  readonly talk: Talk;
  /** Aborted by Ctrl-C; pass it on to whatever takes long. */
  readonly signal: AbortSignal;
  /** All of standard input, for the operand `-`. */
  readonly readStandardInput: () => Promise<Uint8Array>;
}

/** What a verb gives back; it is printed in one go, when everything is done. */
export interface Outcome {
  /** 4 when it finished but some fields failed, or part of what was asked for was not to be written. */
  readonly exit: 0 | 4;
  /** Standard output without --json; text gets its last line feed here. */
  readonly data: string | Uint8Array;
  /** Standard output with --json. */
  readonly json: unknown;
}
