#!/usr/bin/env node
import { exit } from "./exit.ts";
import { runCli } from "./run-cli.ts";

/** How long a verb may take to wind up after Ctrl-C before the process ends anyway, in milliseconds. */
const patienceMs = 2000;

const interruption = new AbortController();
process.on("SIGINT", () => {
  if (interruption.signal.aborted) process.exit(exit.interrupted);
  interruption.abort();
  setTimeout(() => process.exit(exit.interrupted), patienceMs).unref();
});

// A reader that went away (`bermplan ... | head`) is no error: the work goes on, the rest is not printed.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
  });
}

async function readStandardInput(): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  const stop = (): void => void process.stdin.destroy(new Error("interrupted"));
  interruption.signal.addEventListener("abort", stop, { once: true });
  for await (const chunk of process.stdin) chunks.push(chunk as Uint8Array);
  interruption.signal.removeEventListener("abort", stop);
  return Uint8Array.from(Buffer.concat(chunks));
}

const code = await runCli({
  words: process.argv.slice(2),
  variables: process.env,
  errorIsTerminal: process.stderr.isTTY === true,
  signal: interruption.signal,
  writeOut: (data) => void process.stdout.write(data),
  writeError: (text) => void process.stderr.write(text),
  readStandardInput,
});

/** Both streams hand over what they hold before the process ends; what is still waiting elsewhere is not. */
const drained = [process.stdout, process.stderr].map(
  (stream) => new Promise<void>((done) => void stream.write("", () => done())),
);
await Promise.all(drained);
process.exit(code);
