/// <reference lib="webworker" />
import { Engine } from "./engine.ts";
import type { FromEngine, ToEngine } from "./protocol.ts";
import { readFiles } from "./read-files.ts";
import { recognise } from "./recognise.ts";
import { toldError } from "./told-error.ts";

/** The worker's mouth and ears: one engine for as long as the page is open. */
const post = (message: FromEngine, transfer: Transferable[] = []): void =>
  self.postMessage(message, { transfer });
const engine = new Engine(post);
/** The page has opened its files: those that it might have opened come too late. */
let areOpened = false;

self.onmessage = (event: MessageEvent<ToEngine>) => {
  const message = event.data;
  const turn = "turn" in message ? message.turn : 0;
  obey(message).catch((error: unknown) => post(toldError(turn, error)));
};

async function obey(message: ToEngine): Promise<void> {
  switch (message.kind) {
    case "files":
      areOpened = true;
      return engine.open(message.files);
    case "ahead":
      return areOpened ? undefined : engine.ahead(message);
    case "work":
      return engine.work(message);
    case "drawn":
      return engine.drawn();
    case "read-out":
      return engine.readOut(message.turn, message.at);
    case "take-away":
      return engine.takeAway(message);
    case "stick":
      return engine.stick(message);
    case "season":
      return engine.season(message);
    case "before":
      return engine.before(message);
    case "before-let-go":
      return engine.held.letGo();
    case "compare":
      return engine.compare(message);
    case "read-files":
      return post({
        kind: "readings",
        turn: message.turn,
        readings: readFiles(message.files, message.answers, message.joins, message.leftOut),
      });
    case "recognise":
      return post({ kind: "recognised", turn: message.turn, ...recognise(message) });
  }
}
