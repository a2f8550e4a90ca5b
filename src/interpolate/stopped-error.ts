/** The host asked for a stop; nothing is wrong. Its name is the platform's for that. */
export class StoppedError extends Error {
  override readonly name: string = "AbortError";
  constructor() {
    super("stopped on request");
  }
}
