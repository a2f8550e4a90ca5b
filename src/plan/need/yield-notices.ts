import type { Notice } from "../../errors/index.ts";
import type { PlanField } from "../document/document-types.ts";

/** bu/ac that goals lie between; a goal outside is doubted, never refused (common practice). */
const USUAL_GOALS: Readonly<Partial<Record<string, readonly [least: number, most: number]>>> = {
  corn: [90, 350],
  soybean: [15, 100],
  wheat: [20, 180],
};

/** Why a yield goal is hardly the crop's, in words; null where it may well be. */
export function yieldDoubt(crop: string, yieldBuPerAc: number): string | null {
  const usual = USUAL_GOALS[crop];
  if (usual === undefined || (yieldBuPerAc >= usual[0] && yieldBuPerAc <= usual[1])) return null;
  return `a yield goal of ${yieldBuPerAc} bu/ac of ${crop} is unusual, goals lie between ${usual[0]} and ${usual[1]}; is it another crop's? The need follows it`;
}

/** One goal for two crops: typed once for all, or left when the crop was changed. */
export function sameGoalNotices(fields: readonly PlanField[]): Notice[] {
  const crops = new Map<number, Set<string>>();
  for (const { crop, yieldBuPerAc } of fields)
    crops.set(yieldBuPerAc, (crops.get(yieldBuPerAc) ?? new Set()).add(crop));
  return [...crops].flatMap(([goal, of]): Notice[] => {
    if (of.size < 2) return [];
    const message = `${[...of].join(" and ")} have the same yield goal, ${goal} bu/ac; is it each crop's own? The needs follow it`;
    return [{ code: "yield-goal-of-two-crops", message, where: "fields" }];
  });
}

/** A goal that is hardly this crop's: typed wrongly, or left from another crop. One a crop the application is made for. */
export function yieldNotices(field: PlanField): Notice[] {
  return [field, ...(field.alsoFor ?? [])].flatMap(({ crop, yieldBuPerAc }): Notice[] => {
    const doubt = yieldDoubt(crop, yieldBuPerAc);
    if (doubt === null) return [];
    const message = `${field.name}: ${doubt}`;
    return [{ code: "yield-goal-unusual", message, where: field.id }];
  });
}
