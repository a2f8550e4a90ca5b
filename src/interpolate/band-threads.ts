import { InputError } from "../errors/index.ts";
import { type GridKriger, gridKriger } from "./grid-kriger.ts";
import { StoppedError } from "./stopped-error.ts";
import type { GridJob, Kriged, Parallel, RowBand } from "./types.ts";

/** To a thread: the job once, then one band after another. */
export type ToBandThread = { readonly job: GridJob } | { readonly band: RowBand };

/** From a thread: a band done, or why the job cannot be done at all. */
export type FromBandThread =
  | { readonly band: RowBand; readonly kriged: Kriged }
  | { readonly refused: { readonly code: string; readonly message: string; readonly remedy: string } };

/** The near end of a thread of the host's. */
export interface BandThread {
  readonly send: (message: ToBandThread) => void;
  /** Hears its messages, and why it failed, until the function returned is called. */
  readonly listen: (hear: (message: FromBandThread) => void, fail: (error: Error) => void) => () => void;
}

/**
 * Has every band of a job kriged, each thread taking the next as it comes free, and hands them over in the order they
 * are done. `watch` is given a way to end it all with an error and returns the end of its watch.
 */
async function shareBands(
  threads: readonly BandThread[],
  job: GridJob,
  bands: readonly RowBand[],
  onBand: (band: RowBand, kriged: Kriged) => void,
  watch: (fail: (error: Error) => void) => () => void,
): Promise<void> {
  if (bands.length === 0) return;
  const waiting = [...bands];
  let left = bands.length;
  const ends: (() => void)[] = [];
  try {
    await new Promise<void>((done, fail) => {
      ends.push(watch(fail));
      for (const thread of threads) {
        const next = (): void => {
          const band = waiting.shift();
          if (band !== undefined) thread.send({ band });
        };
        const hear = (message: FromBandThread): void => {
          if ("refused" in message) {
            const { code, message: text, remedy } = message.refused;
            fail(new InputError(code, text, remedy));
            return;
          }
          next();
          onBand(message.band, message.kriged);
          left--;
          if (left === 0) done();
        };
        ends.push(thread.listen(hear, fail));
        thread.send({ job });
        // One band to work on and one that lies ready, so that no thread waits for this one.
        next();
        next();
      }
    });
  } finally {
    for (const end of ends) end();
  }
}

/** What a host brings for threads of its own. */
export interface ThreadHost<Thread> {
  readonly start: () => Thread;
  readonly nearEnd: (thread: Thread) => BandThread;
  readonly end: (thread: Thread) => unknown;
  /** Calls `look` again and again until the function returned is called; the clock is the host's. */
  readonly repeat: (look: () => void) => () => void;
}

/** Threads for `krigeGrid` that somebody must close. */
export interface BandThreads extends Parallel {
  /** Ends the threads. */
  readonly close: () => Promise<void>;
}

/**
 * Threads that start with the first job and stay for the next ones; a job that is stopped or fails ends them. One job at a
 * time: a second waits for the first.
 */
export function keepThreads<Thread>(threads: number, host: ThreadHost<Thread>): BandThreads {
  let kept: Thread[] = [];
  let before: Promise<unknown> = Promise.resolve();
  const close = async (): Promise<void> => {
    const ended = kept;
    kept = [];
    await Promise.all(ended.map(host.end));
  };
  const bands: Parallel["bands"] = (job, list, onBand, signal) => {
    const turn = before.then(async () => {
      while (kept.length < threads) kept.push(host.start());
      try {
        await shareBands(kept.map(host.nearEnd), job, list, onBand, (fail) =>
          host.repeat(() => {
            if (signal?.aborted === true) fail(new StoppedError());
          }),
        );
      } catch (error) {
        // Some may be busy with a band that nobody wants any more.
        await close();
        throw error;
      }
    });
    before = turn.catch(() => {});
    return turn;
  };
  return { threads, bands, close };
}

/** An answer of a thread, with the buffers that go over with it. */
interface BandAnswer {
  readonly message: FromBandThread;
  readonly transfer: ArrayBuffer[];
}

/** The far end, inside the thread: solves a job's equations once, then kriges one band after another. */
export function bandAnswers(): (message: ToBandThread) => BandAnswer | undefined {
  let current: { readonly kriger: GridKriger; readonly columns: number } | undefined;
  return (message) => {
    if ("job" in message) {
      current?.kriger.close();
      current = undefined;
      try {
        current = { kriger: gridKriger(message.job), columns: message.job.grid.nx };
      } catch (error) {
        // An InputError would lose its class on the way; anything else is a bug and ends the thread.
        if (!(error instanceof InputError)) throw error;
        const { code, message: text, remedy } = error;
        return { message: { refused: { code, message: text, remedy } }, transfer: [] };
      }
      return undefined;
    }
    if (current === undefined) return undefined; // its job was refused
    const { band } = message;
    const size = band.rows * current.columns;
    const kriged = {
      estimate: new Float64Array(size).fill(Number.NaN),
      variance: new Float64Array(size).fill(Number.NaN),
    };
    for (const _work of current.kriger.band(band, kriged));
    return { message: { band, kriged }, transfer: [kriged.estimate.buffer, kriged.variance.buffer] };
  };
}
