import { said } from "../state/said.ts";

/** Why what was typed is not taken; null where it was. */
export type Refusal = string | null;

interface Limits {
  readonly least: number;
  readonly most: number;
  readonly unit: string;
}

/** What a box takes: `mph, a number from 0.5 to 25`, `lb/ac, a number from 0 up`. */
function limitsInWords({ least, most, unit }: Limits): string {
  const isUnit = unit !== "" && !unit.startsWith("of ");
  const range = !Number.isFinite(least)
    ? ""
    : Number.isFinite(most)
      ? ` from ${said(least)} to ${said(most)}`
      : ` from ${said(least)} up`;
  return `${isUnit ? `${unit}, ` : ""}a number${range}`;
}

/** A number as it is typed: digits with a point. NaN for anything else, so that no 190,5 becomes 1905. */
export const typedNumber = (text: string): number =>
  /^\s*[-+]?(\d+\.?\d*|\.\d+)\s*$/.test(text) ? Number(text) : Number.NaN;

/** Take a typed number within limits, or say what is wanted. */
export function takeNumber(text: string, limits: Limits, take: (value: number) => void): Refusal {
  const typed = typedNumber(text);
  const isFit = Number.isFinite(typed) && typed >= limits.least && typed <= limits.most;
  if (!isFit)
    return `Give ${limitsInWords(limits)}${text.includes(",") ? ": decimals behind a point, nothing between thousands" : ""}.`;
  take(typed);
  return null;
}
