import type { Notice } from "../errors/index.ts";
import type { PlanField } from "./document-types.ts";

/** bu/ac that goals lie between; a goal outside is doubted, never refused (common practice). */
const USUAL_GOALS: Readonly<Partial<Record<string, readonly [least: number, most: number]>>> = {
  corn: [60, 350],
  soybean: [15, 120],
  wheat: [20, 180],
};

/** A goal that is hardly this crop's: typed wrongly, or left from another crop. One a crop the application is made for. */
export function yieldNotices(field: PlanField): Notice[] {
  return [field, ...(field.alsoFor ?? [])].flatMap(({ crop, yieldBuPerAc }): Notice[] => {
    const usual = USUAL_GOALS[crop];
    if (usual === undefined || (yieldBuPerAc >= usual[0] && yieldBuPerAc <= usual[1])) return [];
    const message = `${field.name}: a yield goal of ${yieldBuPerAc} bu/ac of ${crop} is unusual, goals lie between ${usual[0]} and ${usual[1]}; is it another crop's? The need follows it`;
    return [{ code: "yield-goal-unusual", message, where: field.id }];
  });
}
