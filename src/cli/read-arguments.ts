import { InputError, nearest } from "../errors/index.ts";
import { type OptionName, type OptionValues, optionTable } from "./options.ts";

export interface Arguments {
  /** What is no option, in order: the verb, then what it works on. `-` is standard input. */
  readonly operands: readonly string[];
  readonly options: OptionValues;
  /** Names of the options that were given. */
  readonly given: readonly OptionName[];
}

const names = Object.keys(optionTable) as readonly OptionName[];

/**
 * Reads the words after the command's name. `--name value` and `--name=value` are the same; after `--`
 * nothing is an option. Throws `unknown-option`, `missing-value`, `no-value-taken`, `option-twice`,
 * `not-a-pair`.
 */
export function readArguments(words: readonly string[]): Arguments {
  const operands: string[] = [];
  const values = new Map<OptionName, string[]>();
  const rest = [...words];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    if (word === "--") {
      operands.push(...rest.splice(0));
    } else if (word === "-" || !word.startsWith("-")) {
      operands.push(word);
    } else {
      const [name, value] = readOption(word, rest);
      values.set(name, [...(values.get(name) ?? []), value]);
    }
  }
  return { operands, options: optionValues(values), given: [...values.keys()] };
}

function readOption(word: string, rest: string[]): [OptionName, string] {
  const equals = word.indexOf("=");
  const typed = word === "-h" ? "--help" : equals < 0 ? word : word.slice(0, equals);
  const name = names.find((known) => `--${known}` === typed);
  if (name === undefined) throw unknownOption(typed);
  const entry = optionTable[name];
  if (entry.kind === "switch") {
    if (equals < 0) return [name, ""];
    throw new InputError(
      "no-value-taken",
      `--${name} takes no value, but "${word}" was given`,
      `Write --${name}.`,
    );
  }
  const value = equals < 0 ? rest[0] : word.slice(equals + 1);
  if (value === undefined || value === "" || (equals < 0 && value.startsWith("--"))) {
    const remedy = `Write --${name} ${entry.value}, or --${name}=${entry.value} for a value that begins with --.`;
    throw new InputError("missing-value", `--${name} needs a value after it`, remedy);
  }
  if (equals < 0) rest.shift();
  return [name, value];
}

function unknownOption(typed: string): InputError {
  const near = nearest(
    typed,
    names.map((name) => `--${name}`),
  );
  return new InputError(
    "unknown-option",
    `unknown option ${typed}`,
    `The nearest known one is ${near}; a file name that begins with - goes after --.`,
  );
}

/** The value of every option by its kind; `optionTable` binds each kind to the type of its value. */
function optionValues(values: ReadonlyMap<OptionName, readonly string[]>): OptionValues {
  const readOne = (name: OptionName): OptionValues[OptionName] => {
    switch (optionTable[name].kind) {
      case "switch":
        return values.has(name);
      case "text":
        return once(name, values);
      case "texts":
        return values.get(name) ?? [];
      case "pairs":
        return pairs(name, values);
    }
  };
  return Object.fromEntries(names.map((name) => [name, readOne(name)])) as unknown as OptionValues;
}

function once(name: OptionName, values: ReadonlyMap<OptionName, readonly string[]>): string | undefined {
  const given = values.get(name) ?? [];
  if (given.length < 2) return given[0];
  const shown = given.map((value) => `"${value}"`).join(" and ");
  throw new InputError(
    "option-twice",
    `--${name} was given ${given.length} times: ${shown}`,
    `Give --${name} once.`,
  );
}

function pairs(name: OptionName, values: ReadonlyMap<OptionName, readonly string[]>): Map<string, string> {
  const found = new Map<string, string>();
  for (const pair of values.get(name) ?? []) {
    const equals = pair.indexOf("=");
    const key = pair.slice(0, equals);
    const value = pair.slice(equals + 1);
    if (equals < 1 || value === "") {
      throw new InputError(
        "not-a-pair",
        `--${name} ${pair}: not a key=value`,
        `Write --${name} ${optionTable[name].value}.`,
      );
    }
    const before = found.get(key);
    if (before !== undefined && before !== value) {
      throw new InputError(
        "option-twice",
        `--${name} gives ${key} as "${before}" and as "${value}"`,
        `Give ${key} one value.`,
      );
    }
    found.set(key, value);
  }
  return found;
}
