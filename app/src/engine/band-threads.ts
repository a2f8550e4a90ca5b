import { type BandThread, type FromBandThread, keepThreads, type Parallel } from "#core";

/** How often a stop is looked for while threads work, ms. */
const LOOK_MS = 50;
/** More would crowd out the page and the map. */
const MOST_THREADS = 8;

/** Threads under the engine's own. */
export const bandThreads = (): Parallel =>
  keepThreads(Math.min(MOST_THREADS, navigator.hardwareConcurrency), {
    start: () => new Worker(new URL("./band-worker.ts", import.meta.url), { type: "module", name: "bands" }),
    nearEnd,
    end: (worker) => worker.terminate(),
    repeat: (look) => {
      const timer = setInterval(look, LOOK_MS);
      return () => clearInterval(timer);
    },
  });

const nearEnd = (worker: Worker): BandThread => ({
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
