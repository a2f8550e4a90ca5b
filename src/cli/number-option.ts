import { InputError } from "../errors/index.ts";
import { readNumber } from "../formats/index.ts";
import type { Call } from "./command.ts";
import type { OptionName } from "./options.ts";

/** The number of an option that takes text; undefined when it was not given. Throws `not-a-number`. */
export function numberOption(
  call: Call,
  name: OptionName,
  { least = 0, above = Number.NEGATIVE_INFINITY }: { least?: number; above?: number } = {},
): number | undefined {
  const text = call.options[name];
  if (typeof text !== "string") return undefined;
  const value = readNumber(text);
  if (value !== null && value >= least && value > above) return value;
  throw new InputError(
    "not-a-number",
    `--${name} ${text}: not a number from ${Math.max(least, above)} up`,
    "Give one number.",
  );
}

/** Numbers between commas. Throws `not-a-number`. */
export function numbersOption(call: Call, name: OptionName): number[] | undefined {
  const text = call.options[name];
  if (typeof text !== "string") return undefined;
  return text.split(",").map((part) => {
    const value = readNumber(part.trim());
    if (value !== null) return value;
    throw new InputError(
      "not-a-number",
      `--${name} ${text}: “${part}” is not a number`,
      "Separate numbers by commas.",
    );
  });
}
