/**
 * The user's mistake, as against ours: a wrong file, row, value or command.
 * The message names the file, the row or record and the value; the remedy is one sentence that says
 * what to do next. A broken invariant of our own is a plain `Error` and is left to crash.
 */
export class InputError extends Error {
  override readonly name: string = "InputError";
  /** Stable, tested and documented, in kebab-case: `missing-column`. */
  readonly code: string;
  /** What to do next, one sentence. */
  readonly remedy: string;

  constructor(code: string, message: string, remedy: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
    this.remedy = remedy;
  }
}
