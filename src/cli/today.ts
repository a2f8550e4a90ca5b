import { InputError } from "../errors/index.ts";
import { dayOfClock } from "../formats/index.ts";
import { dayNumber } from "../season/index.ts";
import type { Call } from "./command.ts";

/** The day of this computer's clock, YYYY-MM-DD. */
export const today = (): string => dayOfClock(new Date());

/** The day of an option, as typed; undefined when it was not given. Throws `date-not-usable`. */
export function dayOption(call: Pick<Call, "options">, name: "date" | "start"): string | undefined {
  const text = call.options[name];
  if (text === undefined) return undefined;
  try {
    dayNumber(text);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError("date-not-usable", `--${name}: ${error.message}`, error.remedy);
  }
  return text;
}

/** The day of --date, else today. Throws `date-not-usable`. */
export const dayOr = (call: Pick<Call, "options">): string => dayOption(call, "date") ?? today();
