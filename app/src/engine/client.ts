import type { FromEngine, NamedFile, ToEngine } from "./protocol.ts";

type Hear = (message: FromEngine) => void;

/** The page's end of the worker. */
export interface EngineClient {
  send(message: ToEngine, transfer?: Transferable[]): void;
  /** End the worker by force and begin a new one with these files; only for Stop. */
  restart(files: readonly NamedFile[]): void;
}

export function startEngine(hear: Hear, crashed: (told: string) => void): EngineClient {
  let worker = begin();
  function begin(): Worker {
    const fresh = new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "engine" });
    fresh.onmessage = (event: MessageEvent<FromEngine>) => hear(event.data);
    fresh.onerror = (event) => crashed(event.message || "the worker did not start");
    return fresh;
  }
  return {
    send: (message, transfer = []) => worker.postMessage(message, transfer),
    restart: (files) => {
      worker.terminate();
      worker = begin();
      worker.postMessage({ kind: "files", files } satisfies ToEngine);
    },
  };
}
