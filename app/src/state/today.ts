import { dayOfClock } from "#core";

/** The day of this computer's clock, YYYY-MM-DD. */
export const today = (): string => dayOfClock(new Date());
