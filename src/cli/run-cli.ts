import { InputError, nearest } from "../errors/index.ts";
import type { Command } from "./command.ts";
import { type ExitCode, exit } from "./exit.ts";
import { explain } from "./explain.ts";
import { generalHelp, verbHelp } from "./help.ts";
import { commonOptions } from "./options.ts";
import { type Arguments, readArguments } from "./read-arguments.ts";
import { emphasis, makeTalk, type Talk } from "./talk.ts";
import { type Verb, verbs } from "./verbs.ts";
import { toolVersion } from "./version.ts";

/** What the command line touches of the process it runs in. */
export interface Surroundings {
  /** The words after the command's name. */
  readonly words: readonly string[];
  readonly variables: Readonly<Record<string, string | undefined>>;
  readonly errorIsTerminal: boolean;
  readonly signal: AbortSignal;
  readonly writeOut: (data: string | Uint8Array) => void;
  readonly writeError: (text: string) => void;
  readonly readStandardInput: () => Promise<Uint8Array>;
}

/**
 * One command from its words to its exit code. Standard output is written at most once, whole, at the end.
 * Never rejects.
 */
export async function runCli(around: Surroundings): Promise<ExitCode> {
  let talk: Talk | null = null;
  try {
    const read = readArguments(around.words);
    talk = makeTalk({
      write: around.writeError,
      isTerminal: around.errorIsTerminal,
      quiet: read.options.quiet,
    });
    return await obey(read, talk, around);
  } catch (error) {
    talk?.clear();
    if (around.signal.aborted) {
      around.writeError("bermplan: interrupted\n");
      return exit.interrupted;
    }
    const told = explain(error, toolVersion(), emphasis(around.errorIsTerminal, around.variables));
    if (wantsJson(around.words) && told.json !== null) around.writeOut(asJson(told.json));
    else around.writeError(told.text);
    return told.exit;
  }
}

async function obey(read: Arguments, talk: Talk, around: Surroundings): Promise<ExitCode> {
  if (read.options.version) return print(`bermplan ${toolVersion()}`, around);
  const [name, ...operands] = read.operands;
  if (name === undefined) {
    if (read.options.help) return print(generalHelp(verbs), around);
    throw new InputError(
      "no-verb",
      "no verb was given",
      `Begin with one of: ${verbNames().join(", ")}. bermplan --help says more.`,
    );
  }
  const verb = verbs.find((known) => known.name === name);
  if (verb === undefined) {
    const remedy = `The nearest known one is ${nearest(name, verbNames())}; bermplan --help lists them all.`;
    throw new InputError("unknown-verb", `unknown verb "${name}"`, remedy);
  }
  const { command } = await verb.load();
  if (read.options.help) return print(verbHelp(verb, command), around);
  refuseMisfits(verb, command, operands.length, read);
  if (read.options.answer.size > 0) {
    const { refuseUnknownAnswers } = await import("./refuse-unknown-answers.ts");
    refuseUnknownAnswers(read.options.answer, verb.name);
  }
  const { readStandardInput, signal } = around;
  const outcome = await command.run({ operands, options: read.options, talk, signal, readStandardInput });
  talk.clear();
  around.writeOut(read.options.json ? asJson(outcome.json) : withLineFeed(outcome.data));
  return outcome.exit;
}

/** Throws when a verb was given an option it does not take, or too little or too much to work on. */
function refuseMisfits(verb: Verb, command: Command, operands: number, read: Arguments): void {
  const taken = [...command.options, ...commonOptions];
  const remedy = `See bermplan ${verb.name} --help.`;
  const misfit = read.given.find((name) => !taken.includes(name));
  if (misfit) throw new InputError("option-not-taken", `${verb.name} takes no --${misfit}`, remedy);
  const { shown, least, most } = command.operands;
  const usage = `bermplan ${verb.name} ${shown}`.trimEnd();
  if (operands < least) throw new InputError("missing-operand", `too little was given: ${usage}`, remedy);
  if (operands > most) throw new InputError("too-many-operands", `too much was given: ${usage}`, remedy);
}

function print(text: string, around: Surroundings): ExitCode {
  around.writeOut(withLineFeed(text));
  return exit.done;
}

const verbNames = (): string[] => verbs.map((verb) => verb.name);

/** Asked of the raw words, since an error may lie in the words themselves. */
function wantsJson(words: readonly string[]): boolean {
  const end = words.indexOf("--");
  return (end < 0 ? words : words.slice(0, end)).includes("--json");
}

const asJson = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

function withLineFeed(data: string | Uint8Array): string | Uint8Array {
  return typeof data !== "string" || data === "" || data.endsWith("\n") ? data : `${data}\n`;
}
