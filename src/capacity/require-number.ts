import { InputError } from "../errors/index.ts";

/** What a number may be: `above` excludes its bound, `atLeast` and `atMost` include theirs. */
export interface NumberRange {
  readonly above?: number;
  readonly atLeast?: number;
  readonly atMost?: number;
}

/**
 * Passes a finite number inside the range through. Throws `number-not-usable` with the name and the value
 * otherwise; `name` is the key in the input, so that the user finds it.
 */
export function requireNumber(name: string, value: number, range: NumberRange = { atLeast: 0 }): number {
  const { above, atLeast, atMost } = range;
  const inside =
    Number.isFinite(value) &&
    (above === undefined || value > above) &&
    (atLeast === undefined || value >= atLeast) &&
    (atMost === undefined || value <= atMost);
  if (inside) return value;
  const wanted = [
    ...(above === undefined ? [] : [`above ${above}`]),
    ...(atLeast === undefined ? [] : [`at least ${atLeast}`]),
    ...(atMost === undefined ? [] : [`at most ${atMost}`]),
  ].join(" and ");
  throw new InputError(
    "number-not-usable",
    `${name} is ${value}`,
    `Give ${name} as a number${wanted === "" ? "" : ` ${wanted}`}.`,
  );
}
