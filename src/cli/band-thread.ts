import { parentPort } from "node:worker_threads";
import { bandAnswers, type ToBandThread } from "../interpolate/index.ts";

/** A thread of `openBandThreads`. */
const answer = bandAnswers();

parentPort?.on("message", (message: ToBandThread) => {
  const answered = answer(message);
  if (answered !== undefined) parentPort?.postMessage(answered.message, answered.transfer);
});
