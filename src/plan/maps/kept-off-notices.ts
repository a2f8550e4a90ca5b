import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { PlanField } from "../document/document-types.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import type { Excluded } from "../results/need-result-types.ts";

/** Acres of pieces that a pass may bring something to: all but those that exclusions keep it off. */
export const acresToLay = ({ pieces, areaAc }: Pick<Pieces, "pieces" | "areaAc">): number =>
  sum(pieces.map(({ keptOff }, k) => (keptOff === true ? 0 : areaAc[k]!)));

/** How much ground the exclusions take, and how much gets nothing since rig and spreader stop with their whole width. */
export function keptOffNotices(
  field: PlanField,
  { places, areaAc }: Excluded,
  passes: Pieces,
  swaths: Pieces,
): Notice[] {
  if (places.length === 0) return [];
  const off = ({ pieces, areaAc: acresOf }: Pieces): string =>
    sum(pieces.map(({ keptOff }, k) => (keptOff === true ? acresOf[k]! : 0))).toFixed(1);
  const message =
    `${field.name}: exclusions take ${areaAc.strip.toFixed(1)} ac from the strip and ${areaAc.surface.toFixed(1)} ac from the spreader; ` +
    `pieces that touch them get nothing over their whole width: ${off(passes)} ac of the strip and ${off(swaths)} ac of the spreader in all`;
  return [{ code: "exclusions-kept", message, where: field.id }];
}
