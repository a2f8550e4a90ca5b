import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { type BandThread, type BandThreads, type FromBandThread, keepThreads } from "../interpolate/index.ts";

/** How often a stop is looked for while threads work, in milliseconds. */
const LOOK_MS = 50;

/** One thread for each processor unless told otherwise. */
export const openBandThreads = (threads: number = availableParallelism()): BandThreads =>
  keepThreads(threads, {
    start: newThread,
    nearEnd,
    end: (worker) => worker.terminate(),
    repeat: (look) => {
      const timer = setInterval(look, LOOK_MS);
      return () => clearInterval(timer);
    },
  });

function newThread(): Worker {
  const worker = new Worker(new URL("./band-thread.js", import.meta.url));
  // Idle threads do not keep the process alive; while a job runs, the look for a stop does.
  worker.unref();
  return worker;
}

const nearEnd = (worker: Worker): BandThread => ({
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
