/** How the command ended, for scripts that call it. */
export type ExitCode =
  /** Done. */
  | 0
  /** Our bug. */
  | 1
  /** Wrong input or usage, or a set that is not as written. */
  | 2
  /** A question needs an answer; nothing was written. */
  | 3
  /** Finished, but some fields failed, or part of what was asked for was not to be written. */
  | 4
  /** Interrupted with Ctrl-C. */
  | 130;

/** The codes by name. */
export const exit: {
  readonly done: 0;
  readonly bug: 1;
  readonly input: 2;
  readonly question: 3;
  readonly partly: 4;
  readonly interrupted: 130;
} = { done: 0, bug: 1, input: 2, question: 3, partly: 4, interrupted: 130 };
