import { guideRemoval, removalFactor } from "../../agronomy/index.ts";
import { type BalanceSheet, balanceSheet, type CropYear, isInCropYear } from "../../need/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { noNutrients, type Product } from "../../products/index.ts";
import { acres } from "../../units/index.ts";
import type { Oxide, PlanGuideCheck } from "../document/document-need-types.ts";
import type { PlanField, PlanOwnGuide } from "../document/document-types.ts";
import { fieldGuide } from "../need/field-guide.ts";
import { creditsOf } from "../need/wanted-field.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import { poundsOnCells } from "../results/field-sums.ts";
import type { FieldGrid } from "../results/result-types.ts";

/**
 * Removal, build-up and drawdown of a field by what its files place. Removal is the guide's own, or that of the source
 * the plan names; unknown where neither has the crop. Crops of later seasons count where the application is for them.
 */
export function fieldBalanceSheet(
  field: PlanField,
  own: readonly PlanOwnGuide[],
  checks: readonly PlanGuideCheck[],
  cropYear: CropYear,
  cells: FieldGrid,
  yields: number | Float64Array,
  placed: readonly { readonly map: Prescription; readonly ground: Pieces }[],
): BalanceSheet {
  const products = placed.map(({ map, ground }) => ({
    product: { ...unnamed, id: map.product, grade: map.analysis },
    lbPerAc: onCells(map, ground, cells),
  }));
  const credits = creditsOf(field).filter(({ date }) => isInCropYear(cropYear, date));
  const credit = (key: "p2o5LbPerAc" | "k2oLbPerAc") =>
    credits.reduce((total, one) => total + (one[key] as number), 0);
  const removal = {
    P2O5: removalOf(field, "P2O5", own, checks, yields),
    K2O: removalOf(field, "K2O", own, checks, yields),
  };
  return balanceSheet({
    areaM2: cells.areaM2,
    placed: products,
    removalLbPerAc: {
      ...(removal.P2O5 === undefined ? {} : { P2O5: removal.P2O5 }),
      ...(removal.K2O === undefined ? {} : { K2O: removal.K2O }),
    },
    creditLbPerAc: { P2O5: credit("p2o5LbPerAc"), K2O: credit("k2oLbPerAc") },
  });
}

/** A product of which only the analysis counts. */
const unnamed: Product = {
  id: "",
  name: "",
  grade: noNutrients,
  gradeSource: "the map's own",
  gradeStatus: "arithmetic",
  notes: [],
};

/** lb product/ac that a map's file places on each cell, by the ground of its pieces. */
function onCells(map: Prescription, ground: Pieces, cells: FieldGrid): Float64Array {
  return poundsOnCells(map, ground, cells).map((pounds, cell) => {
    const areaM2 = cells.areaM2[cell]!;
    return areaM2 > 0 ? pounds / acres(areaM2) : 0;
  });
}

/** lb oxide/ac that the field's own crop takes with its residue; undefined where no factor is known. */
export function cropRemoval(
  field: PlanField,
  nutrient: Oxide,
  own: readonly PlanOwnGuide[],
  checks: readonly PlanGuideCheck[],
  yields: number | Float64Array,
): number | Float64Array | undefined {
  const { alsoFor: _, ...alone } = field;
  return removalOf(alone, nutrient, own, checks, yields);
}

/** lb oxide/ac that the crops take, a number or one a cell; undefined where a factor is not known. */
function removalOf(
  field: PlanField,
  nutrient: Oxide,
  own: readonly PlanOwnGuide[],
  checks: readonly PlanGuideCheck[],
  yields: number | Float64Array,
): number | Float64Array | undefined {
  const { guide, crop } = fieldGuide(field, nutrient, own, checks);
  const perBu = (name: string): number | undefined =>
    guideRemoval(guide, name, nutrient, 1) ??
    (field.removalFactors === undefined
      ? undefined
      : removalFactor(field.removalFactors, name, nutrient)?.lbPerBu);
  const first = perBu(crop);
  if (first === undefined) return undefined;
  let fixed = field.residueLbPerAc?.[nutrient] ?? 0;
  for (const later of field.alsoFor ?? []) {
    if (later.nutrients !== undefined && !later.nutrients.includes(nutrient)) continue;
    const factor = perBu(later.crop);
    if (factor === undefined) return undefined;
    fixed += factor * later.yieldBuPerAc + (later.residueLbPerAc?.[nutrient] ?? 0);
  }
  return typeof yields === "number" ? first * yields + fixed : yields.map((bu) => first * bu + fixed);
}
