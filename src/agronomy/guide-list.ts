import { InputError } from "../errors/index.ts";
import illinois from "./guides/illinois.json" with { type: "json" };
import iowa2013 from "./guides/iowa-2013.json" with { type: "json" };
import kansasBuildMaintain from "./guides/kansas-build-maintain.json" with { type: "json" };
import kansasSufficiency from "./guides/kansas-sufficiency.json" with { type: "json" };
import nebraska from "./guides/nebraska.json" with { type: "json" };
import southDakota from "./guides/south-dakota.json" with { type: "json" };
import triState1995 from "./guides/tri-state-1995.json" with { type: "json" };
import triState2020 from "./guides/tri-state-2020.json" with { type: "json" };
import type { Guide, Nutrient } from "./types.ts";

// TypeScript widens the words of a JSON file to string; a test checks each file against the schema.
const published = [
  triState2020,
  triState1995,
  illinois,
  iowa2013,
  kansasSufficiency,
  kansasBuildMaintain,
  nebraska,
  southDakota,
] as unknown as readonly Guide[];

/** The guides that come with the tool. None is preselected. */
export const guides: readonly Guide[] = published;
/** Ids of the guides that come with the tool, as `--guide` takes them. */
export const guideIds = (): string[] => published.map((guide) => guide.id);

/** A guide that comes with the tool. Throws `unknown-guide` with the known ids. */
export function guideById(id: string): Guide {
  const found = published.find((guide) => guide.id === id);
  if (found !== undefined) return found;
  throw new InputError("unknown-guide", `there is no guide "${id}"`, `Name one of ${guideIds().join(", ")}.`);
}

/** Crops a guide has a rule for, in the order of its rules; for one nutrient when it is given. */
export function cropsOf(guide: Guide, nutrient?: Nutrient): string[] {
  const rules = guide.rules.filter((rule) => nutrient === undefined || rule.nutrient === nutrient);
  return [...new Set(rules.map((rule) => rule.crop))];
}
