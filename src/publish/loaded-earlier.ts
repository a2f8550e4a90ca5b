import type { Plan } from "../plan/index.ts";
import { firstOf } from "../report/index.ts";
import { numberText } from "../units/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import type { StickPass, StickRecord } from "./no-sticks.ts";
import { hashOfForms } from "./place-map.ts";
import type { StickMap } from "./stick-json.ts";

/** What a map on a stick is held against. */
interface AsBuilt {
  /** SHA-256 by path on the stick, as its manifest lists them. */
  readonly listed: ReadonlyMap<string, string>;
  /** Whether the stick's plan is the build's. */
  readonly isSamePlan: boolean;
}

/** Whether a map on a stick is the build's: the same pounds, and every file the bytes of one of the build's. */
export function isAsBuilt(
  onStick: StickMap,
  map: BuiltMap | undefined,
  { listed, isSamePlan }: AsBuilt,
): boolean {
  if (map === undefined || onStick.totalLb !== map.totalLb) return false;
  // A map that is a task alone has no file of its own to compare.
  if (onStick.files.length === 0) return isSamePlan;
  const hashes = new Set(Object.values(map.hashes));
  return onStick.files.every((path) => hashes.has(listed.get(path) ?? ""));
}

/** Hash and pounds of the map itself, whatever forms of it go on a stick. */
export const ofMap = (map: BuiltMap): { readonly sha256: string; readonly totalLb: number } => ({
  sha256: hashOfForms(map, ["shapefile"]),
  totalLb: map.totalLb,
});

/**
 * Fields marked as loaded or done on the strip rig with maps that are not this build's, in words: what this build reckons after the strip
 * pass, fills and broadcast maps, is of its own strip maps. Fields whose strip maps are about to be written again are not told.
 */
export function loadedEarlier(
  record: StickRecord,
  built: readonly BuiltMap[],
  plan: Plan,
  job: { readonly pass: StickPass; readonly only: readonly string[]; readonly reissue: boolean },
): string[] {
  const { maps, marks, names } = record.strip;
  const isReissued = (field: string): boolean =>
    job.pass === "strip" && job.reissue && (job.only.length === 0 || job.only.includes(field));
  const recorded = new Set(Object.values(maps).map(({ name }) => names[name]));
  return Object.entries(marks).flatMap(([field, mark]) => {
    if (isReissued(field) || !recorded.has(field)) return [];
    const differing = built.flatMap((map) => {
      if (map.pass !== "strip" || map.field !== field) return [];
      const known = maps[map.stem];
      // The record of an earlier version does not tell.
      if (known !== undefined && (known.ofMap === undefined || known.ofMap.sha256 === ofMap(map).sha256))
        return [];
      const now = `${numberText(map.totalLb, 0)} lb`;
      return known === undefined
        ? [`${map.product} ${now} was not in it`]
        : [
            `${known.task === undefined ? known.name : `${map.product} of the task “${known.task}”`} ${numberText(known.ofMap!.totalLb, 0)} lb, now ${now}`,
          ];
    });
    if (differing.length === 0) return [];
    const name = plan.fields.find(({ id }) => id === field)?.name ?? field;
    return [
      `${name} is marked ${mark} with strip maps of an earlier plan (${firstOf(differing).join("; ")}): fills and broadcast maps of this build reckon with its new strip maps, not with those`,
    ];
  });
}
