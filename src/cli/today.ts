import { dayOfClock } from "../formats/index.ts";
import { dayNumber } from "../season/index.ts";

/** The day of this computer's clock, YYYY-MM-DD. */
export const today = (): string => dayOfClock(new Date());

/** A typed day, else today. Throws `date-not-usable`. */
export function dayOr(text: string | undefined): string {
  if (text === undefined) return today();
  dayNumber(text);
  return text;
}
