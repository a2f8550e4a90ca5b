import { InputError } from "../errors/index.ts";
import type { Call } from "./command.ts";
import type { OptionName, OptionValues } from "./options.ts";

export type TextOption = {
  [Name in OptionName]: OptionValues[Name] extends string | undefined ? Name : never;
}[OptionName];

/** The text of an option the verb cannot do without. Throws `missing-option`. */
export function neededText({ options }: Call, verb: string, name: TextOption): string {
  const text = options[name];
  if (text !== undefined) return text;
  throw new InputError(
    "missing-option",
    `${verb} was given no --${name}`,
    `Add --${name}; see bermplan ${verb} --help.`,
  );
}
