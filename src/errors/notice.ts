/**
 * Something doubtful but usable. It travels in the result and stays in sight until somebody deals with it;
 * nothing in the engine writes to a console.
 */
export interface Notice {
  /** Stable, in kebab-case: `sample-outside-fields`. */
  readonly code: string;
  /** Fact, number, what to do. */
  readonly message: string;
  /** The file, field, row or record it is about; empty when it is about the whole plan. */
  readonly where: string;
}
