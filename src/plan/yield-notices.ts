import type { Notice } from "../errors/index.ts";
import type { PlanField } from "./document-types.ts";

/** bu/ac that goals lie between; a goal outside is doubted, never refused (common practice). */
const USUAL_GOALS: Readonly<Partial<Record<string, readonly [least: number, most: number]>>> = {
  corn: [60, 350],
  soybean: [15, 120],
  wheat: [20, 180],
};

/** Why a yield goal is hardly the crop's, in words; null where it may well be. */
export function yieldDoubt(crop: string, yieldBuPerAc: number): string | null {
  const usual = USUAL_GOALS[crop];
  if (usual === undefined || (yieldBuPerAc >= usual[0] && yieldBuPerAc <= usual[1])) return null;
  return `a yield goal of ${yieldBuPerAc} bu/ac of ${crop} is unusual, goals lie between ${usual[0]} and ${usual[1]}; is it another crop's? The need follows it`;
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
