import type { FromEngine, NamedFile, ToEngine } from "./protocol.ts";

type Hear = (message: FromEngine) => void;

/** The page's end of the worker. */
interface EngineClient {
  send(message: ToEngine): void;
  /** End the worker by force and begin a new one with these files; only for Stop. */
  restart(files: readonly NamedFile[]): void;
}

const begin = (): Worker =>
  new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "engine" });

let failed: string | null = null;
const toldOf = (event: ErrorEvent): string => event.message || "the worker did not start";

/** The first worker reads its code while the page still reads its own. */
const first = begin();
first.onerror = (event) => {
  failed = toldOf(event);
};

/** Let the worker begin on files that the page will open when it stands. */
export const workAhead = (files: readonly NamedFile[], field: string | null): void =>
  first.postMessage({ kind: "ahead", files, field } satisfies ToEngine);

export function startEngine(hear: Hear, crashed: (told: string) => void): EngineClient {
  const listenTo = (worker: Worker): Worker => {
    worker.onmessage = (event: MessageEvent<FromEngine>) => hear(event.data);
    worker.onerror = (event) => crashed(toldOf(event));
    return worker;
  };
  let worker = listenTo(first);
  if (failed !== null) crashed(failed);
  return {
    send: (message) => worker.postMessage(message),
    restart: (files) => {
      worker.terminate();
      worker = listenTo(begin());
      worker.postMessage({ kind: "files", files } satisfies ToEngine);
    },
  };
}
