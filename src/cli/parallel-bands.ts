import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { InputError } from "../errors/index.ts";
import {
  type GridJob,
  type Kriged,
  type Pacing,
  type Parallel,
  type RowBand,
  StoppedError,
} from "../interpolate/index.ts";

/** To a thread: the job once, then one band after another. */
export type ToBandThread = { readonly job: GridJob } | { readonly band: RowBand };

/** From a thread: a band done, or why the job cannot be done at all. */
export type FromBandThread =
  | { readonly band: RowBand; readonly kriged: Kriged }
  | { readonly refused: { readonly code: string; readonly message: string; readonly remedy: string } };

/** Threads for `krigeGrid`; they start with the first job and stay for the next ones until closed. */
export interface BandThreads extends Parallel {
  /** Ends the threads. */
  readonly close: () => Promise<void>;
}

/** How often a stop is looked for while threads work, in milliseconds. */
const LOOK_MS = 50;

/** One thread for each processor unless told otherwise. One job at a time: a second waits for the first. */
export function openBandThreads(threads: number = availableParallelism()): BandThreads {
  let workers: Worker[] = [];
  let before: Promise<unknown> = Promise.resolve();
  const close = async (): Promise<void> => {
    const ended = workers;
    workers = [];
    await Promise.all(ended.map((worker) => worker.terminate()));
  };
  const bands: Parallel["bands"] = (job, list, onBand, signal) => {
    const turn = before.then(async () => {
      while (workers.length < threads) workers.push(newThread());
      try {
        await workThrough(workers, job, list, onBand, signal);
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

function newThread(): Worker {
  const worker = new Worker(new URL("./band-thread.js", import.meta.url));
  // Idle threads do not keep the process alive; while a job runs, the look for a stop does.
  worker.unref();
  return worker;
}

async function workThrough(
  workers: readonly Worker[],
  job: GridJob,
  bands: readonly RowBand[],
  onBand: (band: RowBand, kriged: Kriged) => void,
  signal: Pacing["signal"],
): Promise<void> {
  const waiting = [...bands];
  let left = bands.length;
  if (left === 0) return;
  const listeners: (() => void)[] = [];
  let look: ReturnType<typeof setInterval> | undefined;
  try {
    await new Promise<void>((done, fail) => {
      look = setInterval(() => {
        if (signal?.aborted === true) fail(new StoppedError());
      }, LOOK_MS);
      for (const worker of workers) {
        const next = (): void => {
          const band = waiting.shift();
          if (band !== undefined) worker.postMessage({ band } satisfies ToBandThread);
        };
        const onMessage = (message: FromBandThread): void => {
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
        const onExit = (code: number): void => fail(new Error(`a thread ended by itself with code ${code}`));
        worker.on("message", onMessage).on("error", fail).on("exit", onExit);
        listeners.push(() => {
          worker.off("message", onMessage).off("error", fail).off("exit", onExit);
        });
        worker.postMessage({ job } satisfies ToBandThread);
        next();
      }
    });
  } finally {
    clearInterval(look);
    for (const stopListening of listeners) stopListening();
  }
}
