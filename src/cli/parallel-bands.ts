import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import {
  type BandThread,
  type FromBandThread,
  type Parallel,
  StoppedError,
  shareBands,
} from "../interpolate/index.ts";

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
        await shareBands(workers.map(threadOf), job, list, onBand, (fail) => {
          const look = setInterval(() => {
            if (signal?.aborted === true) fail(new StoppedError());
          }, LOOK_MS);
          return () => clearInterval(look);
        });
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

const threadOf = (worker: Worker): BandThread => ({
  send: (message) => worker.postMessage(message),
  listen: (hear, fail) => {
    const onExit = (code: number): void => fail(new Error(`a thread ended by itself with code ${code}`));
    const onMessage = (message: FromBandThread): void => hear(message);
    worker.on("message", onMessage).on("error", fail).on("exit", onExit);
    return () => {
      worker.off("message", onMessage).off("error", fail).off("exit", onExit);
    };
  },
});
