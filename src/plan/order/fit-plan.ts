import { type FitPart, fitToBought } from "../../order/index.ts";
import { oxideIn } from "../document/field-products.ts";
import type { OrderedField } from "./ordered-field.ts";

/** Maps of a product fitted to what is bought and on hand, the farm's tons held. */
export interface FitOfPlan {
  readonly product: string;
  readonly boughtLb: number;
  /** lb missing in the maps, and lb to be bought for them, with overlap and loss. */
  readonly cutLb: number;
  readonly shortLb: number;
  /** Ground below the critical level keeps its pounds first; a layer without pounds, as where no guide has such a level, is not in it. */
  readonly layers: readonly { readonly layer: string; readonly keptShare: number }[];
  readonly byField: readonly { readonly fieldId: string; readonly lb: number; readonly keptLb: number }[];
}

const FIRST = "below critical";
const REST = "the rest";

/**
 * Where a product bought is less than its maps take: what ground below the critical level needs stays first, the rest is
 * cut by one share everywhere. Null where it is enough. Rates are not changed by this: lower the ceiling or the budget to
 * make the maps so.
 */
export function fitOfPlan(
  product: string,
  fields: readonly OrderedField[],
  lbOf: (fieldId: string) => number,
  boughtLb: number,
  shares: { readonly overlapShare: number; readonly lossShare: number },
): FitOfPlan | null {
  const parts = fields.flatMap(({ field, prescriptions, need }): FitPart[] => {
    const map = prescriptions.find((one) => one.product === product);
    const lb = lbOf(field.id);
    if (map === undefined || lb === 0) return [];
    const nutrient = oxideIn(map.analysis, "P2O5") > 0 ? "P2O5" : "K2O";
    const below = need[nutrient].rule?.belowCritical?.lb ?? 0;
    const wanted = need.figures[nutrient].mappedTestLb;
    const share = wanted > 0 ? Math.min(1, below / wanted) : 0;
    return [
      { id: `${field.id} ${FIRST}`, fieldId: field.id, layer: FIRST, lb: lb * share },
      { id: `${field.id} ${REST}`, fieldId: field.id, layer: REST, lb: lb * (1 - share) },
    ].filter((part) => part.lb > 0);
  });
  const fit = fitToBought({ parts, order: [FIRST, REST], boughtLb, ...shares });
  if (fit.cutLb <= 0.5) return null;
  const ids = [...new Set(parts.map((part) => part.fieldId))];
  const total = (fieldId: string, lb: (part: FitPart, i: number) => number): number =>
    parts.reduce((sum, part, i) => (part.fieldId === fieldId ? sum + lb(part, i) : sum), 0);
  return {
    product,
    boughtLb,
    cutLb: fit.cutLb,
    shortLb: (fit.cutLb * (1 + shares.overlapShare)) / (1 - shares.lossShare),
    layers: fit.layers,
    byField: ids.map((fieldId) => ({
      fieldId,
      lb: total(fieldId, (part) => part.lb),
      keptLb: total(fieldId, (_, i) => fit.keptLb[i]!),
    })),
  };
}
