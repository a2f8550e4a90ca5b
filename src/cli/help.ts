import type { Command } from "./command.ts";
import { commonOptions, type OptionName, optionTable } from "./options.ts";
import type { Verb } from "./verbs.ts";

/** What `--help` prints without a verb. */
export function generalHelp(verbs: readonly Verb[]): string {
  return [
    "bermplan: from soil samples to strip-till and broadcast prescription files",
    "",
    "usage: bermplan VERB ... [options]",
    "",
    "verbs:",
    ...columns(verbs.map((verb) => [verb.name, verb.about])),
    "",
    "options of every verb:",
    ...optionLines(commonOptions),
    "",
    "exit codes: 0 done, 1 our bug, 2 wrong input or usage, 3 a question needs an answer,",
    "4 finished with some fields failed, 130 interrupted",
    "",
    "bermplan VERB --help says more about a verb.",
  ].join("\n");
}

/** What `VERB --help` prints. */
export function verbHelp(verb: Verb, command: Command): string {
  return [
    `usage: bermplan ${[verb.name, command.operands.shown, "[options]"].filter(Boolean).join(" ")}`,
    "",
    command.about,
    "",
    "options:",
    ...optionLines([...command.options, ...commonOptions]),
  ].join("\n");
}

function optionLines(names: readonly OptionName[]): string[] {
  return columns(
    names.map((name) => [`--${name} ${optionTable[name].value}`.trimEnd(), optionTable[name].about]),
  );
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(...rows.map(([left]) => left.length)) + 2;
  return rows.map(([left, right]) => `  ${left.padEnd(width)}${right}`);
}
