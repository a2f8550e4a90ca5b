import { dayNumber } from "../season/index.ts";

/** The day of this computer's clock, YYYY-MM-DD. */
export function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** A typed day, else today. Throws `date-not-usable`. */
export function dayOr(text: string | undefined): string {
  if (text === undefined) return today();
  dayNumber(text);
  return text;
}
