import { StoppedError } from "./stopped-error.ts";
import type { Pacing } from "./types.ts";

/** About 10 ms of multiply-and-adds on a plain laptop; the engine has no clock. */
const WORK_BETWEEN_PAUSES = 1e7;

/** Counts work and says when it is time to let the host breathe. */
export class Pacer {
  readonly #pacing: Pacing;
  #work = 0;

  constructor(pacing: Pacing) {
    this.#pacing = pacing;
    this.#stopIfAsked();
  }

  /** Adds work; true when a pause is due. */
  due(work: number): boolean {
    this.#work += work;
    return this.#work >= WORK_BETWEEN_PAUSES;
  }

  /** Throws `StoppedError` when the host asked for a stop. */
  async pause(): Promise<void> {
    this.#work = 0;
    this.#stopIfAsked();
    if (this.#pacing.pause === undefined) return;
    await this.#pacing.pause();
    this.#stopIfAsked();
  }

  #stopIfAsked(): void {
    if (this.#pacing.signal?.aborted === true) throw new StoppedError();
  }
}
