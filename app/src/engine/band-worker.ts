/// <reference lib="webworker" />
import { bandAnswers, type ToBandThread } from "#core";

/** A thread that kriges row bands for the engine. */
const answer = bandAnswers();

self.onmessage = (event: MessageEvent<ToBandThread>) => {
  const answered = answer(event.data);
  if (answered !== undefined) self.postMessage(answered.message, { transfer: answered.transfer });
};
