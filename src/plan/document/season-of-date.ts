/** Month from which work in a year is for the crop of the next; ours: corn and soybean stand until then. */
const NEXT_SEASON_FROM_MONTH = 7;

/** First day of a season that may be worked where nobody typed one; ours: 1 April. */
export const firstWorkedDay = (seasonYear: number): string => `${seasonYear}-04-01`;

/** The season that a day (YYYY-MM-DD) works towards: from July on the next year's. */
export function seasonOf(date: string): number {
  const [year, month] = date.split("-").map(Number) as [number, number];
  return year + (month >= NEXT_SEASON_FROM_MONTH ? 1 : 0);
}
