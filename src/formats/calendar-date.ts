interface CalendarDate {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  /** 1 to 31. */
  readonly day: number;
}

/** The parts of `YYYY-MM-DD`; a text that names no day of the calendar is a mistake of the calling code. */
export function calendarDate(date: string): CalendarDate {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  const [year, month, day] = [Number(match?.[1]), Number(match?.[2]), Number(match?.[3])];
  if (!isDay(year, month, day)) throw new Error(`not a date YYYY-MM-DD: "${date}"`);
  return { year, month, day };
}

/** Whether the calendar has that day; false for NaN. */
export function isDay(year: number, month: number, day: number): boolean {
  if (!(month >= 1 && month <= 12 && day >= 1)) return false;
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return day <= (days[month - 1] ?? 0);
}

/** The day a clock shows where it hangs, YYYY-MM-DD. */
export function dayOfClock(now: Date): string {
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
