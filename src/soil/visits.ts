import type { SoilSample } from "./soil-sample.ts";

/** Days between samples of one visit at most (ours): a visit may be broken by rain, not by a season. */
const VISIT_GAP_DAYS = 60;
const MS_PER_DAY = 86_400_000;

/** Days of sampling, `YYYY-MM-DD`, by visit: the oldest visit first, each day once and in order. */
export function visitsOf(days: readonly string[]): readonly (readonly string[])[] {
  const visits: string[][] = [];
  for (const day of [...new Set(days)].sort()) {
    const before = visits.at(-1)?.at(-1);
    if (before !== undefined && Date.parse(day) - Date.parse(before) <= VISIT_GAP_DAYS * MS_PER_DAY)
      visits.at(-1)!.push(day);
    else visits.push([day]);
  }
  return visits;
}

/** Day of sampling by the line of a sample, `YYYY-MM-DD`; null where none is told. */
export type DatedRows = ReadonlyMap<number, { readonly date: string | null }>;

/** The number of a sample's visit within its field, 0 the last, which rows without a day are counted to. */
export function visitFinder(samples: readonly SoilSample[], days: DatedRows): (sample: SoilSample) => number {
  const byField = new Map<string | null, string[]>();
  for (const { field, line } of samples) {
    const day = days.get(line)?.date ?? null;
    if (day !== null) byField.set(field, [...(byField.get(field) ?? []), day]);
  }
  const visits = new Map([...byField].map(([field, own]) => [field, visitsOf(own).toReversed()]));
  return ({ field, line }) => {
    const day = days.get(line)?.date ?? null;
    return day === null ? 0 : visits.get(field)!.findIndex((visit) => visit.includes(day));
  };
}
