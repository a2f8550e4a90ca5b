import { runCli, type Surroundings } from "../../src/cli/run-cli.ts";

export interface Told {
  readonly exit: number;
  readonly out: string;
  readonly error: string;
}

/** The command line in this process: what it prints, and its exit code. */
export const cli = (...words: readonly string[]): Promise<Told> => cliWith(words);

/** The same in other surroundings, such as with a signal to stop. */
export async function cliWith(words: readonly string[], more: Partial<Surroundings> = {}): Promise<Told> {
  const told = { out: "", error: "" };
  const exit = await runCli({
    words,
    variables: { NO_COLOR: "1" },
    errorIsTerminal: false,
    signal: new AbortController().signal,
    readStandardInput: async () => new Uint8Array(),
    writeOut: (data) => {
      told.out += typeof data === "string" ? data : new TextDecoder().decode(data);
    },
    writeError: (text) => {
      told.error += text;
    },
    ...more,
  });
  return { exit, ...told };
}
