import { guideById } from "../../agronomy/index.ts";
import { InputError } from "../../errors/index.ts";
import type { Plan, PlanSplit } from "./document-types.ts";

/** What is put in place of 1 lb P2O5 in the strip where a guide is read; 1 where the plan gives none for it. */
export const bandFactor = (
  { bandFactorP2O5: factor }: Pick<PlanSplit, "bandFactorP2O5">,
  guide: string | null,
): number =>
  typeof factor === "number"
    ? factor
    : factor && guide !== null && Object.hasOwn(factor, guide)
      ? factor[guide]!
      : 1;

/** Throws `unknown-guide` where a factor is given for a guide that is neither ours nor typed in the plan. */
export function checkBandGuides({ split, ownGuides }: Pick<Plan, "split" | "ownGuides">): void {
  if (typeof split.bandFactorP2O5 !== "object") return;
  for (const id of Object.keys(split.bandFactorP2O5)) {
    if (ownGuides?.some((guide) => guide.id === id)) continue;
    try {
      guideById(id);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      throw new InputError(error.code, `split.bandFactorP2O5: ${error.message}`, error.remedy);
    }
  }
}
