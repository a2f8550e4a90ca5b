import type { Plan, PlanExclusion, PlanField, PlanPlace, PlanRig } from "#core";
import { withRigKeys } from "./implement-edits.ts";
import { type Change, withField } from "./plan-edits.ts";
import { said } from "./said.ts";

/** How a field's line is given. */
export type LineFrom = "file" | "heading" | "places";

export const lineFrom = ({ driveAlong }: PlanField): LineFrom =>
  driveAlong === undefined ? "file" : "headingDeg" in driveAlong ? "heading" : "places";

export function withLineOfFile(plan: Plan, field: PlanField): Change {
  const { driveAlong: _, ...rest } = field;
  return { name: `${field.name}: line of ${field.guidance.source}`, plan: withField(plan, rest) };
}

export function withHeading(plan: Plan, field: PlanField, headingDeg: number): Change {
  const turned = ((headingDeg % 360) + 360) % 360;
  return {
    name: `${field.name} heading ${said(turned)}°`,
    plan: withField(plan, { ...field, driveAlong: { headingDeg: turned } }),
  };
}

/** To a millimetre: the eighth decimal of a degree. */
const placeOf = ([lon, lat]: readonly [number, number]): PlanPlace => ({
  lonDeg: Number(lon.toFixed(8)),
  latDeg: Number(lat.toFixed(8)),
});

export function withPlaces(
  plan: Plan,
  field: PlanField,
  places: readonly (readonly [number, number])[],
  what = "line A-B moved",
): Change {
  return {
    name: `${field.name}: ${what}`,
    plan: withField(plan, { ...field, driveAlong: { places: places.map(placeOf) } }),
  };
}

/** The rig's number, or the field's own where it has one. */
export function withHeadlandPasses(plan: Plan, field: PlanField, passes: number, before: number): Change {
  const name = `headland passes ${before} → ${passes}`;
  if (field.headlandPasses !== undefined) {
    return {
      name: `${field.name} ${name}`,
      plan: withField(plan, { ...field, headlandPasses: passes }),
    };
  }
  return withRigKeys(plan, { headlandPasses: passes }, name);
}

export const PATTERNS = [
  ["back-and-forth", "back and forth"],
  ["every-second", "every second"],
  ["skip", "skip for the turn"],
] as const;

export const withPattern = (plan: Plan, pattern: NonNullable<PlanRig["pattern"]>): Change =>
  withRigKeys(plan, { pattern }, `passes ${PATTERNS.find(([value]) => value === pattern)![1]}`);

export const withHeadlands = (plan: Plan, headlands: "last" | "first"): Change =>
  withRigKeys(plan, { headlands }, `headland ${headlands}`);

export const withRates = (plan: Plan, rates: "segments" | "stretches"): Change =>
  withRigKeys(
    plan,
    { rates },
    rates === "stretches" ? "rates by stretches the meter can follow" : "a rate for every segment",
  );

export const withSegment = (plan: Plan, segmentM: number, words: string): Change =>
  withRigKeys(plan, { segmentM }, `segments of ${words}`);

export const withResponse = (plan: Plan, responseS: number): Change =>
  withRigKeys(plan, { responseS }, `meter response ${said(responseS)} s`);

export const withSections = (plan: Plan, count: number): Change =>
  withRigKeys(
    plan,
    { sections: { ...plan.rig.sections, count } },
    count === 1 ? "whole rig starts and stops at once" : `${count} sections start and stop alone`,
  );

/** Typed it replaces what geometry gives; null goes back to geometry. */
export const withOverlap = (plan: Plan, overlapPercent: number | null): Change =>
  withRigKeys(
    plan,
    { overlapPercent },
    overlapPercent === null ? "overlap by geometry" : `overlap ${said(overlapPercent)} %`,
  );

/** Half a row to a side in odd years, or never. */
export const withOddYears = (plan: Plan, side: "right" | "left" | "never"): Change =>
  withRigKeys(
    plan,
    { oddYears: side === "never" ? null : side },
    side === "never" ? "strips on the line every year" : `odd years half a row to the ${side}`,
  );

export function withExclusion(plan: Plan, exclusion: PlanExclusion, place: number | null): Change {
  const all = [...(plan.exclusions ?? [])];
  if (place === null) all.push(exclusion);
  else all[place] = exclusion;
  const setback = `setback ${said(exclusion.setbackFt)} ft`;
  const name =
    place === null ? `kept off: ${exclusion.what}` : `${exclusion.what}: ${exclusion.method}, ${setback}`;
  return { name, plan: { ...plan, exclusions: all } };
}

export function withoutExclusion(plan: Plan, place: number): Change {
  const { exclusions = [], ...rest } = plan;
  const others = exclusions.filter((_, k) => k !== place);
  return {
    name: `no longer kept off: ${exclusions[place]!.what}`,
    plan: others.length > 0 ? { ...rest, exclusions: others } : rest,
  };
}
