import { InputError } from "../errors/index.ts";
import { readNumber } from "../formats/index.ts";
import type { Call } from "./command.ts";
import { neededText, type TextOption } from "./needed-option.ts";
import type { OptionName, OptionValues } from "./options.ts";

interface NumberBounds {
  /** 0 when left out. */
  readonly least?: number;
  /** Has to be passed, not only met. */
  readonly above?: number;
  readonly whole?: boolean;
  /** More is taken to be mistyped, with the remedy that says how the figure is meant. */
  readonly most?: number;
  readonly remedy?: string;
}

/** A share beyond these is a percentage that was typed for it (ours); a meter that is further off is not to be driven with. */
export const STRIP_SHARE: NumberBounds = { most: 3, remedy: "It is a share: 0.8 is 80 %." };
export const METER_FACTOR: NumberBounds = {
  least: 0.5,
  most: 2,
  remedy: "It is the pounds used over the pounds by the display: 1.1 where 10 % more went out.",
};

/** The number of an option that takes text; undefined when it was not given. Throws `not-a-number`. */
export function numberOption(call: Call, name: TextOption, bounds: NumberBounds = {}): number | undefined {
  const text = call.options[name];
  if (text === undefined) return undefined;
  const { above, least = above ?? 0, most, whole = false, remedy = "Give a plain number." } = bounds;
  const value = readNumber(text);
  const isFit = value !== null && value >= least && value !== above && (!whole || Number.isInteger(value));
  if (isFit && (most === undefined || value <= most)) return value;
  const range =
    above !== undefined
      ? ` above ${above}`
      : least === Number.NEGATIVE_INFINITY
        ? ""
        : ` from ${least} ${most === undefined ? "up" : `to ${most}`}`;
  throw new InputError(
    "not-a-number",
    `--${name} ${text}: not a ${whole ? "whole " : ""}number${range}`,
    remedy,
  );
}

/** The same for an option the verb cannot do without. Throws `missing-option`. */
export function neededNumber(call: Call, verb: string, name: TextOption, bounds: NumberBounds = {}): number {
  neededText(call, verb, name);
  return numberOption(call, name, bounds)!;
}

/** Numbers between commas. Throws `not-a-number`. */
export function numbersOption(call: Call, name: TextOption): number[] | undefined {
  const text = call.options[name];
  if (text === undefined) return undefined;
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

type PairsOption = {
  [Name in OptionName]: OptionValues[Name] extends ReadonlyMap<string, string> ? Name : never;
}[OptionName];

/** Numbers from 0 up by product, each of a product known here. Throws `no-such-product`, `not-a-number`. */
export function productNumbers(
  call: Call,
  name: PairsOption,
  products: Iterable<string>,
): Record<string, number> {
  const known = [...new Set(products)];
  return Object.fromEntries(
    [...call.options[name]].map(([product, text]) => {
      if (!known.includes(product)) {
        throw new InputError(
          "no-such-product",
          `--${name} ${product}=${text}: no map here is of ${product}`,
          `Name one of: ${known.join(", ")}.`,
        );
      }
      const value = readNumber(text);
      if (value !== null && value >= 0) return [product, value];
      throw new InputError(
        "not-a-number",
        `--${name} ${product}=${text}: not a number from 0 up`,
        "Give a plain number.",
      );
    }),
  );
}
