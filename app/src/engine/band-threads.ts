import { type BandThread, type FromBandThread, type Parallel, StoppedError, shareBands } from "#core";

/** How often a stop is looked for while threads work, ms. */
const LOOK_MS = 50;
/** More would crowd out the page and the map. */
const MOST_THREADS = 8;

/**
 * Threads under the engine's own; they start with the first long map, stay for the next ones and end with the engine
 * when Stop is pressed. One job at a time: a second waits for the first.
 */
export function bandThreads(): Parallel {
  const threads = Math.min(MOST_THREADS, navigator.hardwareConcurrency);
  let workers: Worker[] = [];
  let before: Promise<unknown> = Promise.resolve();
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
        for (const worker of workers) worker.terminate();
        workers = [];
        throw error;
      }
    });
    before = turn.catch(() => {});
    return turn;
  };
  return { threads, bands };
}

const newThread = (): Worker =>
  new Worker(new URL("./band-worker.ts", import.meta.url), { type: "module", name: "bands" });

const threadOf = (worker: Worker): BandThread => ({
  send: (message) => worker.postMessage(message),
  listen: (hear, fail) => {
    worker.onmessage = (event: MessageEvent<FromBandThread>) => hear(event.data);
    worker.onerror = (event) => fail(new Error(event.message || "a thread did not start"));
    return () => {
      worker.onmessage = null;
      worker.onerror = null;
    };
  },
});
