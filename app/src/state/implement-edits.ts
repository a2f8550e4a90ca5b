import type { Plan, PlanField, PlanRig, PlanSpreader } from "#core";
import { type Patch, patched } from "./patched.ts";
import { type Change, withField } from "./plan-edits.ts";
import { said } from "./said.ts";

/** Keys of the rig; null takes one out. */
export const withRigKeys = (plan: Plan, patch: Patch<PlanRig>, name: string): Change => ({
  name,
  plan: { ...plan, rig: patched(plan.rig, patch) },
});

/** Rows of the rig; sections that no longer divide them start and stop together. */
export function withRows(plan: Plan, rows: number): Change {
  const { sections } = plan.rig;
  const isCut = sections !== undefined && rows % sections.count !== 0;
  return withRigKeys(
    plan,
    { rows, ...(isCut ? { sections: { ...sections, count: 1 } } : {}) },
    isCut ? `${rows} rows, all sections at once` : `${rows} rows`,
  );
}

export const withRowSpacing = (plan: Plan, rowSpacingIn: number): Change =>
  withRigKeys(plan, { rowSpacingIn }, `rows ${said(rowSpacingIn)} in. apart`);

/** Null: assumed again. */
export const withTurnRadius = (plan: Plan, turnRadiusFt: number | null): Change =>
  withRigKeys(
    plan,
    { turnRadiusFt },
    `turn radius ${turnRadiusFt === null ? "as assumed" : `${said(turnRadiusFt)} ft`}`,
  );

export const withShortestStretch = (plan: Plan, shortestStretchFt: number | null): Change =>
  withRigKeys(
    plan,
    { shortestStretchFt },
    `shortest stretch ${shortestStretchFt === null ? "by speed and response" : `${said(shortestStretchFt)} ft`}`,
  );

/** Seconds that rates are moved ahead; 0 and null: not at all. */
export function withLead(plan: Plan, seconds: number | null): Change {
  const leadS = seconds === 0 ? null : seconds;
  return withRigKeys(
    plan,
    { leadS },
    leadS === null ? "no lead of the rates" : `rates ${said(leadS)} s ahead`,
  );
}

/** Seconds from the order to product on the ground, or to its end. */
export function withSectionDelay(plan: Plan, which: "on" | "off", seconds: number | null): Change {
  const key = which === "on" ? "onDelayS" : "offDelayS";
  const sections = patched(plan.rig.sections ?? { count: 1 }, { [key]: seconds });
  const isPlain = sections.count === 1 && Object.keys(sections).length === 1;
  return withRigKeys(
    plan,
    { sections: isPlain ? null : sections },
    `sections ${which} ${seconds === null ? "at once" : `after ${said(seconds)} s`}`,
  );
}

type Planter = NonNullable<PlanRig["planter"]>;

/** The planter that follows on the strips; null: none is told. Begun with the spacing of the strips. */
export function withFollower(plan: Plan, patch: Patch<Planter> | null, name: string): Change {
  if (patch === null) return withRigKeys(plan, { planter: null }, name);
  const { rows, rowSpacingIn, planter } = plan.rig;
  return withRigKeys(plan, { planter: patched(planter ?? { rows, rowSpacingIn }, patch) }, name);
}

/** The field has a number of headland passes of its own, or the rig's. */
export function withOwnHeadland(plan: Plan, field: PlanField, isOwn: boolean): Change {
  const headlandPasses = isOwn ? (plan.rig.headlandPasses ?? 0) : null;
  return {
    name: isOwn ? `${field.name}: headland passes of its own` : `${field.name}: headland passes of the rig`,
    plan: withField(plan, patched(field, { headlandPasses })),
  };
}

/** Another line of the guidance file. */
export const withLineRecord = (plan: Plan, field: PlanField, record: number): Change => ({
  name: `${field.name}: line ${record} of ${field.guidance.source}`,
  plan: withField(plan, { ...field, guidance: { ...field.guidance, record } }),
});

export const withSpreader = (plan: Plan, patch: Patch<PlanSpreader>, name: string): Change => ({
  name,
  plan: { ...plan, spreader: patched(plan.spreader, patch) },
});
