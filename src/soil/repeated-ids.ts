import type { Notice } from "../errors/index.ts";
import type { SampleFile } from "./sample-types.ts";
import type { SoilSample } from "./soil-sample.ts";
import { type DatedRows, visitFinder } from "./visits.ts";

/** Ids that are named before the rest is counted. */
const SHOWN = 6;

/** Samples of one visit to a field, or of a file without fields, that share an id and lie at several places: all are used, and told. */
export function repeatedIds(
  file: SampleFile,
  samples: readonly SoilSample[],
  hasIds: boolean,
  days: DatedRows = new Map(),
): Notice[] {
  if (!hasIds) return [];
  const visitOf = visitFinder(samples, days);
  const groups = new Map<string, SoilSample[]>();
  for (const sample of samples) {
    const key = JSON.stringify([sample.field, sample.id, visitOf(sample)]);
    groups.set(key, [...(groups.get(key) ?? []), sample]);
  }
  const apart = [...groups.values()].filter((group) =>
    group.some(({ at }) => at[0] !== group[0]!.at[0] || at[1] !== group[0]!.at[1]),
  );
  if (apart.length === 0) return [];
  const named = apart
    .slice(0, SHOWN)
    .map((group) => `${group[0]!.id} (${file.one ?? "line"}s ${group.map(({ line }) => line).join(", ")})`);
  const more = apart.length > SHOWN ? ` and ${apart.length - SHOWN} more` : "";
  const message = `${file.name}: one id at several places: ${named.join(", ")}${more}; each is used where it lies.`;
  return [{ code: "sample-id-repeated", message, where: file.name }];
}
